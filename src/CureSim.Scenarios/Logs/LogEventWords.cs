using System.Text.RegularExpressions;
using CureSim.Core.Logs;

namespace CureSim.Scenarios;

/// <summary>Takes the words of a log's events for what a fit must know. Rule of ours: common practice, no source.</summary>
internal static partial class LogEventWords
{
    /// <summary>The events of a cell; parted by ";", ",", "+", "&amp;" or "and".</summary>
    public static IEnumerable<LogEvent> Read(string cell) =>
        Parts().Split(SampleText.OneLine(cell)).Select(p => p.Trim()).Where(p => p.Length > 0).Select(p => new LogEvent(KindOf(p.ToLowerInvariant()), SampleText.Shown(p)));

    /// <summary>True when an event says that the emitter is new at this row.</summary>
    public static bool StartsNew(LogEvent what) => what.Kind == LogEventKind.EmitterReplaced || (what.Kind == LogEventKind.Requalified && Commissioned().IsMatch(what.Words.ToLowerInvariant()));

    private static LogEventKind KindOf(string words)
    {
        bool emitter = Emitter().IsMatch(words), guide = Guide().IsMatch(words), replaced = Replaced().IsMatch(words);
        if (guide && replaced)
        {
            return LogEventKind.GuideReplaced;
        }

        if (emitter && Failed().IsMatch(words))
        {
            return LogEventKind.EmitterFailed;
        }

        return emitter && replaced ? LogEventKind.EmitterReplaced
            : Cleaned().IsMatch(words) ? LogEventKind.Cleaned
            : Calibrated().IsMatch(words) || (Meter().IsMatch(words) && replaced) ? LogEventKind.Calibrated
            : Requalified().IsMatch(words) ? LogEventKind.Requalified
            : Set().IsMatch(words) ? LogEventKind.Set
            : LogEventKind.Other;
    }

    [GeneratedRegex(@"[;,+&/]|\band\b")]
    private static partial Regex Parts();

    [GeneratedRegex(@"\b(emitter|lamp|bulb|led|head|source)s?\b")]
    private static partial Regex Emitter();

    [GeneratedRegex(@"\b(guide|lightguide|fibre|fiber)s?\b")]
    private static partial Regex Guide();

    [GeneratedRegex(@"\b(meter|radiometer)s?\b")]
    private static partial Regex Meter();

    [GeneratedRegex(@"replace|chang|\bnew\b|install|exchang|swap")]
    private static partial Regex Replaced();

    [GeneratedRegex(@"fail|burn(t|ed) out|dead|broke|went out|no light")]
    private static partial Regex Failed();

    [GeneratedRegex(@"clean|wip(e|ed|ing)\b")]
    private static partial Regex Cleaned();

    [GeneratedRegex(@"calibrat")]
    private static partial Regex Calibrated();

    [GeneratedRegex(@"requalif|commission")]
    private static partial Regex Requalified();

    [GeneratedRegex(@"\bcommission")]
    private static partial Regex Commissioned();

    [GeneratedRegex(@"\bset\b|\breset\b|adjust")]
    private static partial Regex Set();
}
