using CureSim.Core.Numerics;
using CureSim.Engine.Runs;

namespace CureSim.Engine.State;

/// <summary>A set of states with the rows of their own-factor distributions at hand, to be judged at many exposure times and for many limits.</summary>
/// <remarks>A row depends on distance, aim and absorption only, so it is found once for each state and shared by all judges that have the same table.</remarks>
public sealed class JudgedStates
{
    private const int Room = 256;
    private readonly StateSet states;
    private readonly double[][] rows;

    /// <summary>Finds the rows.</summary>
    public JudgedStates(StateSet states, OwnFactorTable table)
    {
        ArgumentNullException.ThrowIfNull(states);
        ArgumentNullException.ThrowIfNull(table);
        this.states = states;
        rows = new double[states.Count][];
        if (table.Spread <= 0.0 || table.IsSingleRow)
        {
            var one = new double[OwnFactorTable.Points];
            if (table.Spread > 0.0)
            {
                table.Slice(0.0, 0.0, 0.0, one);
            }

            Array.Fill(rows, one);
            return;
        }

        // Neighbouring states of a lifetime mostly have the same set-up and lot.
        var last = new Dictionary<int, int>();
        for (int s = 0; s < rows.Length; s++)
        {
            if (last.TryGetValue(states.Lifetime(s), out int before) && HasSameRow(before, s))
            {
                rows[s] = rows[before];
            }
            else
            {
                rows[s] = new double[states.Sites * OwnFactorTable.Points];
                for (int i = 0; i < states.Sites; i++)
                {
                    table.Slice(states.Distance(s, i), states.Offset(s, i), states.Absorption(s, i), rows[s].AsSpan(i * OwnFactorTable.Points, OwnFactorTable.Points));
                }
            }

            last[states.Lifetime(s)] = s;
        }
    }

    /// <summary>Number of states.</summary>
    public int Count => states.Count;

    /// <summary>Lifetime of a state.</summary>
    public int Lifetime(int state) => states.Lifetime(state);

    /// <summary>p of a part in every state.</summary>
    /// <param name="judge">A judge whose table is the one the rows were taken from.</param>
    /// <param name="part">Out: p by state.</param>
    public void Probabilities(StateJudge judge, Span<double> part)
    {
        ArgumentNullException.ThrowIfNull(judge);
        var batch = new JudgeBatch(Lanes.Padded(Room), states.Sites);
        for (int from = 0; from < states.Count; from += Room)
        {
            int size = Math.Min(Room, states.Count - from);
            batch.Count = size;
            for (int k = 0; k < size; k++)
            {
                for (int i = 0; i < states.Sites; i++)
                {
                    batch.LogE[i][k] = states.LogE(from + k, i);
                }

                batch.Rows[k] = rows[from + k];
                batch.LogRate[k] = states.LogRate(from + k);
                batch.LimitShift[k] = states.LimitShift(from + k);
            }

            judge.Probabilities(batch);
            batch.Part.AsSpan(0, size).CopyTo(part[from..]);
        }
    }

    private bool HasSameRow(int a, int b)
    {
        for (int i = 0; i < states.Sites; i++)
        {
            if (states.Distance(a, i) != states.Distance(b, i) || states.Offset(a, i) != states.Offset(b, i) || states.Absorption(a, i) != states.Absorption(b, i))
            {
                return false;
            }
        }

        return true;
    }
}
