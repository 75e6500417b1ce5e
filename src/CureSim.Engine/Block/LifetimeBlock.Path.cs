using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Model.Geometry;
using CureSim.Core.Numerics;

namespace CureSim.Engine.Block;

/// <content>From the source to the bond: guide, re-seat, fouling, set-up, geometry, substrate and lots. Arrays by guide or site and lane.</content>
public sealed partial class LifetimeBlock
{
    private double[][] guideTransmission = [];
    private double[][] guideLoss = [];
    private double[][] guideLit = [];
    private int[][] guideNumber = [];
    private double[][] guideHalf = [];
    private double[][] legLog = [];
    private double[][] reseatLog = [];
    private double[][] foulRate = [];
    private double[][] exposures = [];
    private int[][] cleaningNumber = [];
    private double[][] setupDistance = [];
    private double[][] setupX = [];
    private double[][] setupY = [];
    private int[][] setupNumber = [];
    private double[] absorption = [];
    private double[] substrateNominal = [];
    private double[] substrateNominalLog = [];
    private double[] lotRate = [];
    private double[] lotRateLog = [];

    // Kept up to date at events: what of ln path stays, distance and aim of the state, geometry at nominal part quantities.
    private double[][] pathLog = [];
    private double[][] distance = [];
    private double[][] aimX = [];
    private double[][] aimY = [];
    private double[][] fixedGeometry = [];
    private double[][] nominalGeometry = [];
    private double[][] readingGeometry = [];
    private double[][] setupGeometryLog = [];
    private double[][] disturbanceLog = [];

    // Of the present moment: light at the bond without what varies from part to part, and the nominal irradiance.
    private double[][] light = [];
    private double[][] logNominal = [];

    // The path last looked at: ln of what it transmits, and its exponential.
    private double[][] pathSeen = [];
    private double[][] pathFactor = [];

    private double exposuresPerStep;
    private bool hasFouling;
    private bool guideAsEmitter;
    private double cosineNominal;
    private double rippleNominal;
    private double substrateMeanThickness;

    private void AllocatePath()
    {
        guideTransmission = NewArrays(guides);
        guideLoss = NewArrays(guides);
        guideLit = NewArrays(guides);
        guideHalf = NewArrays(guides);
        guideNumber = NewCounters(guides, lanes);
        legLog = NewArrays(sites);
        reseatLog = NewArrays(sites);
        foulRate = NewArrays(sites);
        exposures = NewArrays(sites);
        cleaningNumber = NewCounters(sites, lanes);
        setupDistance = NewArrays(sites);
        setupX = NewArrays(sites);
        setupY = NewArrays(sites);
        setupNumber = NewCounters(sites, lanes);
        absorption = new double[lanes];
        substrateNominal = new double[lanes];
        substrateNominalLog = new double[lanes];
        lotRate = new double[lanes];
        lotRateLog = new double[lanes];
        pathLog = NewArrays(sites);
        distance = NewArrays(sites);
        aimX = NewArrays(sites);
        aimY = NewArrays(sites);
        fixedGeometry = NewArrays(sites);
        nominalGeometry = NewArrays(sites);
        readingGeometry = NewArrays(sites);
        setupGeometryLog = NewArrays(sites);
        disturbanceLog = NewArrays(sites);
        light = NewArrays(sites);
        logNominal = NewArrays(sites);
        pathSeen = NewArrays(sites);
        pathFactor = NewArrays(sites);
        hasFouling = model.Fouling.Varies || model.Fouling.Mean != 0.0;
        guideAsEmitter = scenario.Guide is { Lit: LitDuring.WholeShift };
        exposuresPerStep = scenario.Production.PartsPerSecond * stepSeconds / scenario.Production.PartsAtOnce;
        cosineNominal = Cosine(model.Tilt.Mean);
        rippleNominal = BlockMath.Exp(model.Ripple.Mean);
        substrateMeanThickness = model.Thickness?.Mean ?? 0.0;
        substrateNominal.AsSpan().Fill(1.0);
    }

    private static double Cosine(double angle) => Math.Max(1e-6, BlockMath.SinCos2Pi(angle * (0.5 / Math.PI)).Cos);

    /// <summary>Draws what belongs to a guide when it is installed, with its legs; lit time starts at 0 and its tips are new.</summary>
    private void InstallGuide(int g, int lane)
    {
        uint lifetime = Lifetime(lane);
        int number = guideNumber[g][lane];
        guideTransmission[g][lane] = model.Transmission!.At(lifetime, g, number);
        guideLoss[g][lane] = model.GuideLoss!.At(lifetime, g, number);
        guideLit[g][lane] = 0.0;
        if (!shared || sites == 1)
        {
            return;
        }

        double sum = 0.0;
        for (int i = 0; i < sites; i++)
        {
            legLog[i][lane] = model.Imbalance!.At(lifetime, i, number);
            sum += BlockMath.Exp(legLog[i][lane]);
        }

        NormaliseLegs(lane, sum);
    }

    private void NormaliseLegs(int lane, double sumOfShares)
    {
        double mean = BlockMath.Log(sumOfShares / sites);
        for (int i = 0; i < sites; i++)
        {
            legLog[i][lane] -= mean;
        }
    }

    /// <summary>A new tip or a cleaned one: a new fouling rate until the next cleaning.</summary>
    private void DrawFouling(int i, int lane) => foulRate[i][lane] = FoulingRate(i, lane);

    private void Clean(int i, int lane, bool newTip)
    {
        cleaningNumber[i][lane]++;
        double effect = newTip ? 1.0 : model.CleaningEffect.At(Lifetime(lane), i, cleaningNumber[i][lane]);
        exposures[i][lane] = (1.0 - effect) * exposures[i][lane];
        DrawFouling(i, lane);
    }

    /// <summary>Draws a set-up of a site's fixture.</summary>
    private void SetUp(int i, int lane)
    {
        uint lifetime = Lifetime(lane);
        int number = setupNumber[i][lane];
        setupDistance[i][lane] = model.DistanceSetup.At(lifetime, i, number);
        setupX[i][lane] = model.AimSetupX.At(lifetime, i, number);
        setupY[i][lane] = model.AimSetupY.At(lifetime, i, number);
        reseatLog[i][lane] = model.Reseat?.At(lifetime, i, number) ?? 0.0;
    }

    private void SetUpAgain(int i, int lane)
    {
        setupNumber[i][lane]++;
        SetUp(i, lane);
    }

    /// <summary>Brings the geometry of a site up to date after a set-up, a shift or a lot.</summary>
    private void RefreshGeometry(int i, int lane)
    {
        double nominal = scenario.Fixture.NominalDistanceMetres;
        double atSetup = Math.Max(SpreadModel.SmallestDistance, nominal + setupDistance[i][lane]);
        double d = nominal + setupDistance[i][lane] + shiftDistance[i][lane];
        double x = setupX[i][lane] + shiftX[i][lane], y = setupY[i][lane] + shiftY[i][lane];
        double mean = model.DistancePart.Mean;
        distance[i][lane] = d;
        aimX[i][lane] = x;
        aimY[i][lane] = y;
        double spread = model.Spread.At(d + mean), beam = BlockMath.Exp(model.Beam.LogOfSquare((x * x) + (y * y)));
        readingGeometry[i][lane] = spread * beam * cosineNominal;
        nominalGeometry[i][lane] = readingGeometry[i][lane] * substrateNominal[lane] * rippleNominal;
        fixedGeometry[i][lane] = (distanceVaries ? 1.0 : spread) * (aimVaries ? 1.0 : beam)
            * (tiltVaries ? 1.0 : cosineNominal) * (thicknessVaries ? 1.0 : substrateNominal[lane]);
        double logSetup = BlockMath.Log(model.Spread.At(atSetup + mean))
            + model.Beam.LogOfSquare((setupX[i][lane] * setupX[i][lane]) + (setupY[i][lane] * setupY[i][lane]));
        setupGeometryLog[i][lane] = logSetup;
        disturbanceLog[i][lane] = factorLog[i][lane] + BlockMath.Log(spread) + model.Beam.LogOfSquare((x * x) + (y * y)) - logSetup;
        rowStale[i][lane] = true;
        Invalidate(lane);
    }

    /// <summary>ln of what the path transmits apart from fouling and guide loss.</summary>
    private void RefreshPath(int i, int lane)
    {
        double guide = guides > 0 ? guideTransmission[EmitterOf(i)][lane] : 0.0;
        pathLog[i][lane] = guide + legLog[i][lane] + reseatLog[i][lane] + factorLog[i][lane];
        Invalidate(lane);
    }

    private void StartLots()
    {
        StartSubstrateLot();
        StartAdhesiveLot();
    }

    private void StartSubstrateLot()
    {
        if (scenario.Substrate is not { } substrate || !Starts(substrate.LotSteps))
        {
            return;
        }

        long lot = substrate.LotSteps > 0 ? step / substrate.LotSteps : 0;
        for (int lane = 0; lane < lanes; lane++)
        {
            absorption[lane] = model.Absorption!.At(Lifetime(lane), 0, lot);
            substrateNominal[lane] = SubstrateModel.Transmission(substrate.Reflectance, absorption[lane], substrateMeanThickness);
            substrateNominalLog[lane] = BlockMath.Log(substrateNominal[lane]);
            if (step > 0)
            {
                RefreshSubstrate(lane);
            }
        }
    }

    private void RefreshSubstrate(int lane)
    {
        for (int i = 0; i < sites; i++)
        {
            double before = nominalGeometry[i][lane];
            nominalGeometry[i][lane] = readingGeometry[i][lane] * substrateNominal[lane] * rippleNominal;
            if (!thicknessVaries)
            {
                // What does not vary from part to part is kept in one product; rebuild it rather than scale it, so that no rounding piles up.
                RefreshGeometry(i, lane);
            }
            else if (nominalGeometry[i][lane] != before)
            {
                rowStale[i][lane] = true;
            }
        }

        Invalidate(lane);
    }

    private void StartAdhesiveLot()
    {
        if (scenario.Cure is not { } cure || !Starts(cure.LotSteps))
        {
            return;
        }

        long lot = cure.LotSteps > 0 ? step / cure.LotSteps : 0;
        bool same = step > 0 && !model.RateLot!.Varies;
        for (int lane = 0; lane < lanes && !same; lane++)
        {
            lotRate[lane] = model.RateLot!.At(Lifetime(lane), 0, lot);
            lotRateLog[lane] = BlockMath.Log(lotRate[lane]);
            if (model.Judge.DependsOnRate)
            {
                Invalidate(lane);
            }
        }
    }

    /// <summary>True when a lot of the given length starts at this step; a single lot starts at commissioning only.</summary>
    private bool Starts(int lotSteps) => commissioning || (lotSteps > 0 && step > 0 && step % lotSteps == 0);

    [MethodImpl(Kernel.Options)]
    private void AdvancePath()
    {
        for (int g = 0; g < guides; g++)
        {
            AddTo(guideLit[g], guideHalf[g]);
        }

        if (hasFouling)
        {
            for (int i = 0; i < sites; i++)
            {
                AddTo(exposures[i], exposureHalf);
            }
        }
    }

    /// <summary>ln of the path's present transmission in one lane.</summary>
    private double PathNow(int i, int lane)
    {
        double path = pathLog[i][lane];
        if (guides > 0)
        {
            int g = EmitterOf(i);
            path -= guideLoss[g][lane] * guideLit[g][lane];
        }

        return hasFouling ? path - (foulRate[i][lane] * exposures[i][lane]) : path;
    }

    /// <summary>What the path of one lane transmits at present; the exponential is found anew when the path has changed.</summary>
    private double Transmitted(int i, int lane)
    {
        double path = PathNow(i, lane);
        if (path != pathSeen[i][lane] || pathFactor[i][lane] == 0.0)
        {
            pathSeen[i][lane] = path;
            pathFactor[i][lane] = BlockMath.Exp(path);
        }

        return pathFactor[i][lane];
    }

    /// <summary>Light and nominal irradiance of one site in one lane.</summary>
    private void RefreshLight(int i, int lane, double burnTime)
    {
        double at = Useful(EmitterOf(i), lane, burnTime) * Transmitted(i, lane);
        light[i][lane] = at * fixedGeometry[i][lane];
        logNominal[i][lane] = BlockMath.Log(at * nominalGeometry[i][lane]);
    }

    /// <summary>Light and nominal irradiance of all lanes.</summary>
    [MethodImpl(Kernel.Options)]
    private void RefreshLights()
    {
        for (int e = 0; e < emitters; e++)
        {
            var all = Lanes.AsVectors(emittedFull[e]);
            var u = Lanes.AsVectors(drive[e]);
            var into = Lanes.AsVectors(useful);
            if (hasBandAgeing)
            {
                var rate = Lanes.AsVectors(bandRate[e]);
                var h = Lanes.AsVectors(burn[e]);
                for (int i = 0; i < into.Length; i++)
                {
                    into[i] = all[i] * u[i] * BlockMath.Exp(-(rate[i] * h[i]));
                }
            }
            else
            {
                for (int i = 0; i < into.Length; i++)
                {
                    into[i] = all[i] * u[i];
                }
            }

            var (from, to) = SitesOf(e);
            for (int i = from; i < to; i++)
            {
                RefreshLightsOf(i);
            }
        }
    }

    [MethodImpl(Kernel.Options)]
    private void RefreshLightsOf(int site)
    {
        FindPath(site);
        var source = Lanes.AsVectors(useful);
        var factor = Lanes.AsVectors(pathFactor[site]);
        var atBond = Lanes.AsVectors(light[site]);
        var log = Lanes.AsVectors(logNominal[site]);
        var kept = Lanes.AsVectors(fixedGeometry[site]);
        var nominal = Lanes.AsVectors(nominalGeometry[site]);
        for (int i = 0; i < log.Length; i++)
        {
            var at = source[i] * factor[i];
            atBond[i] = at * kept[i];
            log[i] = at * nominal[i];
        }

        for (int i = 0; i < log.Length; i++)
        {
            log[i] = BlockMath.Log(log[i]);
        }
    }

    /// <summary>The present path of a site in all lanes.</summary>
    [MethodImpl(Kernel.Options)]
    private void FindPath(int site)
    {
        var path = Lanes.AsVectors(pathSeen[site]);
        var factor = Lanes.AsVectors(pathFactor[site]);
        Lanes.AsVectors(pathLog[site]).CopyTo(path);
        if (guides > 0)
        {
            int g = EmitterOf(site);
            var loss = Lanes.AsVectors(guideLoss[g]);
            var lit = Lanes.AsVectors(guideLit[g]);
            for (int i = 0; i < path.Length; i++)
            {
                path[i] -= loss[i] * lit[i];
            }
        }

        if (hasFouling)
        {
            var rate = Lanes.AsVectors(foulRate[site]);
            var n = Lanes.AsVectors(exposures[site]);
            for (int i = 0; i < path.Length; i++)
            {
                path[i] -= rate[i] * n[i];
            }
        }

        for (int i = 0; i < path.Length; i++)
        {
            factor[i] = BlockMath.Exp(path[i]);
        }
    }
}
