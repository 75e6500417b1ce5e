using System.Collections.Frozen;
using System.Text.RegularExpressions;

namespace CureSim.Core.Cell;

/// <summary>What an input is called by people, and the trade unit in which its SI value is shown: the one place that knows both for every place of the scenario format.</summary>
/// <remarks>
/// A place is the dotted path of the input, as it is listed beside results. Numbers of lists ("qualification.2.parts") and names of the user's own ("disturbances.bracket slips.rate")
/// are told apart from keys by where they stand. A place that is not known is named by its words, so that a text of a stranger's file never fails.
/// </remarks>
public static partial class InputNames
{
    private static readonly (string? Unit, double PerSi) Bare = (null, 1.0), Percent = ("%", 100.0), Irradiance = ("W/cm²", 1e-4), Dose = ("J/cm²", 1e-4), Millimetres = ("mm", 1e3), Seconds = ("s", 1.0),
        Hours = ("h", 1.0 / 3600.0), PerThousandHours = ("%/1000 h", 3600.0 * 1e5), PerTenThousand = ("%/10000 exposures", 1e6), Degrees = ("°", 180.0 / Math.PI), PerMillimetre = ("/mm", 1e-3), PerSecond = ("/s", 1.0),
        Events = ("a 1000 h", 3600.0 * 1e3), Parts = ("parts/h", 3600.0), Watts = ("W", 1.0), Ppm = ("ppm", 1e6), Minutes = ("min", 1.0 / 60.0);

    private static readonly FrozenDictionary<string, (string Name, (string? Unit, double PerSi) Shown)> All = new Dictionary<string, (string, (string?, double))>
    {
        ["production.rate"] = ("rate of parts", Parts), ["production.sites"] = ("bond positions of the cell", Bare), ["production.sites_per_part"] = ("bonds of one part", Bare),
        ["production.shift"] = ("length of a shift", Hours), ["production.step"] = ("length of a simulation step", Hours), ["production.hours_a_day"] = ("scheduled hours a day", Bare),
        ["production.days_a_week"] = ("working days a week", Bare), ["production.weeks_a_year"] = ("working weeks a year", Bare), ["production.horizon"] = ("simulated production time", Hours),

        ["source"] = ("light source", Bare), ["source.kind"] = ("kind of source", Bare), ["source.emitters"] = ("emitters: shared or one a site", Bare), ["source.lit"] = ("when the emitter burns", Bare),
        ["source.ignition_adds"] = ("burn hours that an ignition adds", Hours), ["source.ignitions_a_shift"] = ("ignitions a shift", Bare), ["source.irradiance"] = ("irradiance of a new emitter at full drive", Irradiance),
        ["source.stated_legs"] = ("guide legs for which the irradiance is stated", Bare), ["source.ageing"] = ("ageing of the emitter", Bare), ["source.ageing.weight"] = ("weight of this ageing law among the candidates", Bare),
        ["source.ageing.two_stage.early_part"] = ("share of the emitter's output lost early", Percent), ["source.ageing.two_stage.early_time"] = ("time constant of the emitter's early loss", Hours),
        ["source.ageing.two_stage.late_time"] = ("time constant of the emitter's late loss", Hours), ["source.ageing.exponential.time"] = ("time constant of the emitter's ageing", Hours),
        ["source.ageing.exponential.at"] = ("burn hours at which the emitter has the stated output", Hours), ["source.ageing.exponential.output"] = ("output of the emitter at these burn hours", Percent),
        ["source.ageing.stretched.hours_scale"] = ("stretch of the emitter's ageing in time", Bare), ["source.ageing.table.hours_scale"] = ("stretch of the emitter's ageing in time", Bare),
        ["source.wander"] = ("slow wander of the output", Bare), ["source.wander.sd"] = ("slow wander of the output, standard deviation", Percent), ["source.wander.correlation_time"] = ("time over which the wander is remembered", Hours),
        ["source.wander.seen_by_sensor"] = ("wander is seen by the loop's sensor", Bare), ["source.failure"] = ("burn hours of the emitter at sudden failure", Hours), ["source.replace_at"] = ("burn hours at planned replacement of the emitter", Hours),
        ["source.drive_step"] = ("step of the drive", Percent), ["source.drive_minimum"] = ("lowest drive", Percent), ["source.drive"] = ("drive of a cell without checks", Percent),
        ["source.band_ageing"] = ("loss of the useful band that nothing reads", PerThousandHours),

        ["loop"] = ("loop that holds the output", Bare), ["loop.kind"] = ("what holds the output between settings", Bare), ["loop.sensor_drift"] = ("drift of the loop's sensor", PerThousandHours), ["loop.ripple"] = ("ripple of the output within an exposure", Percent),
        ["loop.alarm"] = ("alarm when the loop runs out of headroom", Bare),
        ["guide"] = ("light guide", Bare), ["guide.legs"] = ("legs of the guide", Bare), ["guide.transmission"] = ("transmission from guide to guide", Percent), ["guide.imbalance"] = ("imbalance of the guide's legs", Percent), ["guide.reseat"] = ("change when the guide is seated again", Percent),
        ["guide.loss"] = ("loss of transmission of the guide", PerThousandHours), ["guide.lit"] = ("when light is in the guide", Bare), ["guide.replace_at"] = ("lit hours at planned replacement of the guide", Hours),
        ["tip"] = ("fouling of the tip", Bare), ["tip.fouling"] = ("fouling of the tip", PerTenThousand), ["tip.cleaning_effect"] = ("share of the fouling that a cleaning takes off", Percent),

        ["fixture"] = ("fixture", Bare), ["fixture.distance.nominal"] = ("working distance", Millimetres), ["fixture.distance.reference"] = ("distance for which the irradiance is stated", Millimetres),
        ["fixture.distance.setup"] = ("distance error of a set-up", Millimetres), ["fixture.distance.part"] = ("distance error of a part", Millimetres), ["fixture.aim"] = ("aim of the light", Bare), ["fixture.aim.setup"] = ("aim error of a set-up", Millimetres),
        ["fixture.aim.part"] = ("aim error of a part", Millimetres), ["fixture.tilt"] = ("tilt of a part", Degrees), ["fixture.spread"] = ("fall-off with distance", Bare), ["fixture.spread.cone.radius"] = ("radius of the guide's face", Millimetres),
        ["fixture.spread.cone.half_angle"] = ("half angle of the light's cone", Degrees), ["fixture.spread.focused.focus"] = ("distance of the focus", Millimetres), ["fixture.spread.focused.range"] = ("depth of the focus", Millimetres),
        ["fixture.spread.inverse_square.virtual_distance"] = ("distance of the virtual source", Millimetres), ["fixture.beam"] = ("profile of the beam", Bare), ["fixture.beam.gaussian.radius"] = ("radius of the beam", Millimetres),
        ["fixture.beam.super_gaussian.radius"] = ("radius of the beam", Millimetres), ["fixture.beam.super_gaussian.order"] = ("order of the beam's profile", Bare), ["fixture.bond_radius"] = ("radius of the bond", Millimetres), ["fixture.judge_at"] = ("where on the bond it is judged", Bare),

        ["disturbances"] = ("disturbances", Bare), ["disturbances.name"] = ("name", Bare), ["disturbances.acts_on"] = ("what it moves", Bare), ["disturbances.rate"] = ("how often it happens", Events), ["disturbances.factor"] = ("transmission left by it", Percent),
        ["disturbances.distance"] = ("shift of the distance by it", Millimetres), ["disturbances.aim"] = ("shift of the aim by it", Millimetres), ["disturbances.cleared_by"] = ("what puts it right", Bare), ["disturbances.by_check"] = ("chance that a check brings it", Percent),
        ["disturbances.by_cleaning"] = ("chance that a cleaning brings it", Percent), ["disturbances.by_replacement"] = ("chance that a replacement brings it", Percent),

        ["substrate"] = ("part that the light passes", Bare), ["substrate.thickness"] = ("thickness of the substrate", Millimetres), ["substrate.absorption"] = ("absorption of the substrate's lot", PerMillimetre), ["substrate.index"] = ("refractive index of the substrate", Bare),
        ["substrate.lot_every"] = ("production time of a substrate lot", Hours), ["exposure"] = ("exposure", Bare), ["exposure.time"] = ("exposure time", Seconds), ["exposure.offset"] = ("offset of the exposure time", Seconds), ["exposure.error"] = ("error of one exposure's time", Seconds),
        ["cure"] = ("cure of the adhesive", Bare), ["cure.maximum"] = ("highest degree of cure", Percent), ["cure.rate.lot"] = ("cure rate of an adhesive lot", PerSecond), ["cure.rate.part"] = ("cure rate within a lot", Percent),
        ["cure.exponent"] = ("exponent of the irradiance in the cure rate", Bare), ["cure.induction_dose"] = ("dose before the cure begins", Dose), ["cure.lot_every"] = ("production time of an adhesive lot", Hours),

        ["checks"] = ("routine checks", Bare), ["checks.interval"] = ("time between checks", Hours), ["checks.target"] = ("reading that the output is set to", Irradiance), ["checks.action"] = ("action limit of a check", Percent), ["checks.adjust"] = ("adjust limit of a check", Percent),
        ["checks.tolerance"] = ("tolerance of a check", Percent), ["checks.tolerance_guard"] = ("guard band of the tolerance, standard uncertainties", Bare), ["checks.measured_at"] = ("where the radiometer is held", Bare), ["checks.set_by"] = ("what the legs are set by", Bare),
        ["checks.clean"] = ("tips are cleaned at a check", Bare), ["checks.fixture_check"] = ("fixture is looked at in a check", Bare), ["checks.when_short"] = ("what is replaced when full drive is not enough", Bare), ["checks.tries"] = ("settings made at most in a check", Bare),
        ["checks.leg_limit"] = ("limit of a leg's deviation", Percent), ["checks.missed"] = ("chance that a check is missed", Percent), ["checks.late"] = ("late checks", Bare), ["checks.late.probability"] = ("chance that a check is late", Percent), ["checks.late.by"] = ("how late a check is", Hours),
        ["checks.after_replacement"] = ("closer checks of a new emitter", Bare), ["checks.after_replacement.interval"] = ("time between checks of a new emitter", Hours), ["checks.after_replacement.for"] = ("how long an emitter is new", Hours),
        ["checks.when_drive_above"] = ("drive that calls for a check", Percent), ["checks.when_alarm"] = ("alarm of the loop calls for a check", Bare),

        ["radiometer"] = ("radiometer", Bare), ["radiometer.meter"] = ("radiometer's error that calibration leaves", Percent), ["radiometer.calibration"] = ("error of the radiometer's calibration", Percent), ["radiometer.persistence"] = ("correlation of successive calibrations", Bare),
        ["radiometer.calibrated_every"] = ("time between calibrations of the radiometer", Hours), ["radiometer.drift"] = ("drift of the radiometer", PerThousandHours), ["radiometer.session"] = ("radiometer's error that a shift's readings share", Percent),
        ["radiometer.repeatability"] = ("repeatability of a reading", Percent), ["radiometer.resolution"] = ("resolution of the radiometer", Irradiance), ["radiometer.new_meter_every"] = ("production time after which another radiometer is bought", Hours),
        ["downtime"] = ("downtime", Bare), ["downtime.check"] = ("downtime of a check", Minutes), ["downtime.emitter_replacement"] = ("downtime of an emitter's replacement", Minutes), ["downtime.guide_replacement"] = ("downtime of a guide's replacement", Minutes),
        ["downtime.failure"] = ("downtime of a sudden failure", Hours), ["downtime.requalification"] = ("downtime of a requalification", Hours),

        ["window.referred_to"] = ("what the limits are stated in", Bare), ["window.irradiance"] = ("limits of the irradiance", Bare), ["window.irradiance.lower"] = ("lower limit of the irradiance", Irradiance), ["window.irradiance.target"] = ("target of the irradiance", Irradiance),
        ["window.irradiance.upper"] = ("upper limit of the irradiance", Irradiance), ["window.dose"] = ("limits of the dose", Bare), ["window.dose.lower"] = ("lower limit of the dose", Dose), ["window.dose.target"] = ("target of the dose", Dose), ["window.dose.upper"] = ("upper limit of the dose", Dose),
        ["window.degree_of_cure"] = ("limits of the degree of cure", Bare), ["window.degree_of_cure.lower"] = ("lower limit of the degree of cure", Percent), ["window.degree_of_cure.target"] = ("target of the degree of cure", Percent),
        ["window.degree_of_cure.upper"] = ("upper limit of the degree of cure", Percent),
        ["requalification"] = ("requalification", Bare), ["requalification.after"] = ("events that call for requalification", Bare), ["requalification.record_only"] = ("requalification is only written down", Bare), ["requalification.capability"] = ("required state index", Bare),

        ["now"] = ("present state of the plant", Bare), ["now.drive"] = ("drive at present", Percent), ["now.emitter_hours"] = ("burn hours of the emitter at present", Hours), ["now.guide_hours"] = ("lit hours of the guide at present", Hours),
        ["now.exposures_since_cleaning"] = ("exposures since cleaning", Bare), ["now.last_as_left"] = ("last reading as left", Irradiance), ["now.leg_shares"] = ("shares of the legs at present", Percent),

        ["qualification"] = ("qualification plans", Bare), ["qualification.name"] = ("name", Bare), ["qualification.accept"] = ("what is judged", Bare), ["qualification.parts"] = ("parts taken", Bare), ["qualification.nonconforming_allowed"] = ("nonconforming parts allowed", Bare),
        ["qualification.confidence"] = ("confidence", Percent), ["qualification.reliability"] = ("reliability", Percent), ["qualification.ppk"] = ("required Ppk", Bare), ["qualification.setups"] = ("set-ups that the parts come from", Bare), ["qualification.lots"] = ("lots that the parts come from", Bare),
        ["qualification.emitter_ages"] = ("emitter ages that the parts come from", Bare), ["qualification.gate"] = ("when parts may be taken", Bare), ["qualification.good_over"] = ("time over which a cell must be good", Bare), ["qualification.measured_by"] = ("what the parts are judged by", Bare),

        ["interval_study"] = ("requirements of the interval study", Bare), ["interval_study.intervals"] = ("intervals compared", Bare), ["interval_study.adjust_limits"] = ("adjust limits compared", Percent), ["interval_study.action_limits"] = ("action limits compared", Percent),
        ["interval_study.reliability_target"] = ("share of checks to be in tolerance", Percent), ["interval_study.nonconforming_limit"] = ("limit of nonconforming parts", Ppm), ["interval_study.routines"] = ("routines compared", Bare), ["interval_study.routines.name"] = ("name", Bare),
        ["interval_study.routines.interval"] = ("time between checks", Hours), ["interval_study.routines.after_replacement"] = ("closer checks of a new emitter", Bare), ["interval_study.routines.after_replacement.interval"] = ("time between checks of a new emitter", Hours),
        ["interval_study.routines.after_replacement.for"] = ("how long an emitter is new", Hours), ["interval_study.routines.when_drive_above"] = ("drive that calls for a check", Percent), ["interval_study.routines.when_alarm"] = ("alarm of the loop calls for a check", Bare),

        ["window_study"] = ("requirements of the window study", Bare), ["window_study.time_from"] = ("shortest exposure time mapped", Seconds), ["window_study.time_to"] = ("longest exposure time mapped", Seconds), ["window_study.irradiance_from"] = ("lowest setting of the output mapped", Irradiance),
        ["window_study.irradiance_to"] = ("highest setting of the output mapped", Irradiance), ["window_study.nodes"] = ("settings mapped along each side", Bare), ["window_study.nonconforming_limit"] = ("limit of nonconforming parts", Ppm), ["window_study.confidence"] = ("confidence of the rectangle", Percent),
        ["window_study.challenge"] = ("how hard the challenge is", Percent), ["window_study.risk"] = ("risk class", Bare),

        ["costs"] = ("prices", Bare), ["costs.currency"] = ("currency", Bare), ["costs.check"] = ("cost of a check", Bare), ["costs.lost_hour"] = ("contribution lost in an hour of downtime", Bare), ["costs.suspect_part"] = ("cost of a suspect part", Bare),
        ["costs.nonconforming_part"] = ("cost of a nonconforming part", Bare), ["costs.emitter"] = ("price of an emitter", Bare), ["costs.guide"] = ("price of a guide", Bare), ["costs.requalification"] = ("cost of a requalification", Bare), ["costs.calibration"] = ("cost of a calibration", Bare),
        ["costs.purchase"] = ("price of the equipment", Bare), ["costs.purchase_per_emitter"] = ("price of the equipment for each emitter", Bare), ["costs.change_control"] = ("cost of change control", Bare), ["costs.first_qualification"] = ("cost of the first qualification", Bare),
        ["costs.radiometer"] = ("price of a radiometer", Bare), ["costs.kwh"] = ("price of a kilowatt hour", Bare), ["costs.disposal"] = ("disposal of a used emitter", Bare), ["costs.exposure_second"] = ("worth of a second of exposure", Bare), ["costs.bridging_stock"] = ("cost of the stock that bridges the change", Bare),
        ["costs.delay_week"] = ("cost of a week that the change takes", Bare), ["costs.forced_change"] = ("cost of a forced change", Bare), ["costs.residual_value"] = ("value of the equipment at the end", Bare),

        ["ownership"] = ("terms of the ownership study", Bare), ["ownership.label"] = ("short name of the option", Bare), ["ownership.installed"] = ("option is installed already", Bare), ["ownership.discount_rate"] = ("discount rate a year", Percent), ["ownership.discounting"] = ("when in a year money flows", Bare),
        ["ownership.money"] = ("nominal or real money", Bare), ["ownership.price_growth"] = ("growth of prices a year", Percent), ["ownership.energy_price_growth"] = ("growth of the price of electricity a year", Percent), ["ownership.lit_power"] = ("electric power of a lit emitter", Watts),
        ["ownership.standby_power"] = ("electric power of an emitter in standby", Watts), ["ownership.warm_up"] = ("warm-up of the emitter", Minutes), ["ownership.cooled_share"] = ("share of the heat that is cooled away", Percent), ["ownership.cooling_cop"] = ("heat carried away for each kilowatt hour of cooling", Bare),
        ["ownership.emission_factor"] = ("emission of a kilowatt hour, kg CO2e", Bare), ["ownership.emission_year"] = ("year of the emission factor", Bare), ["ownership.holds_mercury"] = ("emitters hold mercury", Bare), ["ownership.nonconforming_limit"] = ("limit of nonconforming parts", Ppm),
        ["ownership.project"] = ("project of the change", Bare), ["ownership.project.duration"] = ("duration of the change", Hours), ["ownership.project.validation_fails"] = ("chance that a validation fails", Percent), ["ownership.project.repeat"] = ("time that a repeated validation adds", Hours),
        ["ownership.supply_ends"] = ("time until the emitter's supply ends", Hours),

        ["run"] = ("size of the simulation", Bare), ["run.worlds"] = ("worlds simulated", Bare), ["run.lifetimes"] = ("lifetimes simulated in a world", Bare), ["run.parts_a_step"] = ("parts sampled in a step", Bare), ["run.seed"] = ("seed", Bare), ["run.sampling"] = ("how lifetimes are spread", Bare),
        ["run.precision"] = ("precision asked for", Bare), ["origin"] = ("declared origins", Bare),
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>What a path is called: "imbalance of the guide's legs". A disturbance has its name behind it, an item of a list its number.</summary>
    public static string Of(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        var (key, whose) = Split(path);
        string name = Find(key) is { } known ? known.Name : key.Replace('_', ' ').Replace('.', ' ');
        return whose is null ? name : $"{name} ({whose})";
    }

    /// <summary>Trade unit of an SI value of a path, and how much of it the SI unit holds; no unit for plain numbers and money.</summary>
    public static (string? Unit, double PerSi) UnitOf(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Find(Split(path).Key)?.Shown ?? Bare;
    }

    /// <summary>True when the table has a name for the place itself, not only for its block.</summary>
    public static bool Knows(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Find(Split(path).Key) is not null;
    }

    /// <summary>A text in which places of the format are named as people name them: "as stated for source.irradiance" names the irradiance.</summary>
    public static string InText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Places().Replace(text, m => All.TryGetValue(m.Value, out var found) ? found.Name : m.Value);
    }

    [GeneratedRegex(@"\b[a-z_]+(\.[a-z_]+)+\b", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Places();

    // What stands deeper than the table goes (points of a table, columns of a file) is of the key above it.
    private static (string Name, (string? Unit, double PerSi) Shown)? Find(string key)
    {
        for (string at = key; ; at = at[..at.LastIndexOf('.')])
        {
            if (All.TryGetValue(at, out var found))
            {
                string rest = key[at.Length..].TrimStart('.');
                return rest.Length == 0 ? found : ($"{found.Name}: {rest.Replace('_', ' ').Replace('.', ' ')}", Bare);
            }

            if (!at.Contains('.', StringComparison.Ordinal))
            {
                return null;
            }
        }
    }

    // Takes the number of a list or the user's own name out of a path.
    private static (string Key, string? Whose) Split(string path)
    {
        string text = path.EndsWith(".unknown", StringComparison.Ordinal) ? path[..^".unknown".Length] : path;
        string[] words = text.Split('.');
        if (words.Length > 2 && words[0] == "disturbances")
        {
            return ($"disturbances.{words[^1]}", string.Join('.', words[1..^1]));
        }

        bool IsNumber(string word) => word.Length > 0 && word.All(char.IsAsciiDigit);
        string? whose = words.FirstOrDefault(IsNumber) is { } number ? words[0] switch { "qualification" => $"plan {number}", "source" => $"candidate {number}", _ => $"no. {number}" } : null;
        return (string.Join('.', words.Where(w => !IsNumber(w) && w != "candidates")), whose);
    }
}
