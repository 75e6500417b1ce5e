using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Block;

/// <content>
/// Draws that most lanes are about to ask for at the same address are made eight at a time and kept until asked for. A draw is found by its address, so
/// this changes no number.
/// </content>
public sealed partial class LifetimeBlock
{
    private const int ReadingsAhead = 8;
    private bool drawAhead;
    private AheadDraw? sessionAhead;
    private AheadDraw[][] repeatabilityAhead = [];
    private AheadDraw[] foulingAhead = [];
    private long[] aheadIndex = [];

    /// <summary>Values of one quantity in every lane, at one index or at an index for each lane.</summary>
    private sealed class AheadDraw(int lanes)
    {
        public readonly double[] Values = new double[lanes];
        public readonly long[] Indices = new long[lanes];
        public long Index = long.MinValue;
    }

    private void AllocateAhead()
    {
        sessionAhead = new(lanes);
        repeatabilityAhead = new AheadDraw[sites][];
        foulingAhead = new AheadDraw[sites];
        aheadIndex = new long[lanes];
        for (int i = 0; i < sites; i++)
        {
            repeatabilityAhead[i] = new AheadDraw[ReadingsAhead];
            for (int n = 0; n < ReadingsAhead; n++)
            {
                repeatabilityAhead[i][n] = new(lanes);
            }

            foulingAhead[i] = new(lanes);
            foulingAhead[i].Indices.AsSpan().Fill(-1);
        }
    }

    private double SessionError(int lane, long session) =>
        drawAhead && model.Session.Varies ? At(sessionAhead!, model.Session, 0, session, lane) : model.Session.At(Lifetime(lane), 0, session);

    private double RepeatabilityError(int i, int lane, int now, int number)
    {
        long index = Draw.ReadingIndex(now, number);
        return drawAhead && number < ReadingsAhead && model.Repeatability.Varies
            ? At(repeatabilityAhead[i][number], model.Repeatability, i, index, lane)
            : model.Repeatability.At(Lifetime(lane), i, index);
    }

    /// <summary>Fouling rates after the next cleaning of every lane.</summary>
    private void DrawFoulingAhead()
    {
        for (int i = 0; i < sites && model.Fouling.Varies; i++)
        {
            var ahead = foulingAhead[i];
            for (int lane = 0; lane < lanes; lane++)
            {
                ahead.Indices[lane] = cleaningNumber[i][lane] + 1;
            }

            UniformBlock.Fill(plan.SeedOf(model.Fouling.Stream(i)), model.Values.World, first, model.Fouling.Stream(i), ahead.Indices, ahead.Values);
            ToValues(model.Fouling, ahead.Values);
        }
    }

    private double FoulingRate(int i, int lane)
    {
        int number = cleaningNumber[i][lane];
        return foulingAhead[i].Indices[lane] == number ? foulingAhead[i].Values[lane] : model.Fouling.At(Lifetime(lane), i, number);
    }

    private double At(AheadDraw ahead, LevelDraw draw, int place, long index, int lane)
    {
        if (ahead.Index != index)
        {
            ahead.Index = index;
            UniformBlock.Fill(plan.SeedOf(draw.Stream(place)), model.Values.World, first, draw.Stream(place), index, ahead.Values);
            ToValues(draw, ahead.Values);
        }

        return ahead.Values[lane];
    }
}
