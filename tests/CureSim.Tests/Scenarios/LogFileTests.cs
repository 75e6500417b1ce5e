using System.Collections.Immutable;
using System.Text;
using CureSim.Core.Logs;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Logs as people keep them, and bad ones: one clear message for each problem.</summary>
public class LogFileTests
{
    private static readonly LogChoice Plain = new(ImmutableDictionary<string, string>.Empty);

    [Fact]
    public void Headers_AreGuessedAndShown()
    {
        var read = Read("Lamp hours,UV [mW/cm2],Lamp ID,Note\n0,640,L1,new lamp\n50,610,L1,\n100,590,L1,cleaned\n150,575,L1,\n");
        Assert.Empty(read.Problems);
        Assert.Equal(["emitter-hours", "reading", "emitter", "event"], read.Columns.Select(c => c.Role));
        Assert.All(read.Columns, c => Assert.True(c.Guessed));
        Assert.Equal(10.0, read.Log!.ToWattsPerSquareMetre);
        Assert.Equal(LogEventKind.EmitterReplaced, Assert.Single(read.Log.Rows[0].Events).Kind);
        Assert.Equal(LogEventKind.Cleaned, Assert.Single(read.Log.Rows[2].Events).Kind);
    }

    [Fact]
    public void Columns_AreTakenAsSaid()
    {
        var said = Plain with { Columns = ImmutableDictionary<string, string>.Empty.Add("reading", "left probe").Add("hours", "t") };
        var read = Read("t,left probe,right probe\n0,5,9\n1,4,9\n2,3,9\n3,2,9\n", said);
        Assert.Empty(read.Problems);
        Assert.Equal(5.0, read.Log!.Rows[0].Reading);
        Assert.All(read.Columns, c => Assert.False(c.Guessed));
        Assert.Contains("right probe", Assert.Single(read.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void AsFoundAndAsLeftOfOneRow_BecomeTwoReadings_WithTheEventBetween()
    {
        var read = Read("hours;as found;as left;event\n0;;3.2;lamp replaced\n80;3.1;3.2;cleaned\n160;3.0;3.2;lamp failed\n240;3.1;;\n");
        Assert.Empty(read.Problems);
        var rows = read.Log!.Rows;
        Assert.Equal([ReadingMoment.AsLeft, ReadingMoment.AsFound, ReadingMoment.AsLeft, ReadingMoment.AsFound, ReadingMoment.AsLeft, ReadingMoment.AsFound], rows.Select(r => r.Moment));
        Assert.Empty(rows[3].Events);
        Assert.Equal(LogEventKind.EmitterFailed, Assert.Single(rows[4].Events).Kind);
        Assert.True(read.Log.StartsNew);
    }

    [Fact]
    public void Dates_NeedTheLitHoursOfAWeek()
    {
        const string Text = "date,reading\n2026-01-05 08:00,3.2\n2026-01-12 08:00,3.1\n2026-01-19 08:00,3.0\n2026-01-26 08:00,2.9\n";
        Assert.Contains("--hours-a-week", Assert.Single(Read(Text).Problems).Accepted, StringComparison.Ordinal);
        var read = Read(Text, Plain with { HoursAWeek = 75.0 });
        Assert.Equal([0.0, 75.0, 150.0, 225.0], read.Log!.Rows.Select(r => Math.Round(r.Hours, 6)));
    }

    [Fact]
    public void EveryProblem_IsTold()
    {
        var read = Read("hours,reading,moment,warm,drive %\n0,3.2,as found,warm,50\n10,3.1 W,as found,warm,50\n20,-3,as found,warm,50\n15,\"3,1\",sometimes,hot,50\n30,3.0,as left,cold,50\n40,0,,,\n");
        string[] told = [.. read.Problems.Select(p => p.ToString())];
        Assert.Null(read.Log);
        Assert.Contains(told, t => t.Contains("3.1 W", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains("\"-3\"", StringComparison.Ordinal) && t.Contains("above zero", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains("did you mean \"3.1\"", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains("sometimes", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains("\"hot\"", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains("15 h after 20 h", StringComparison.Ordinal) && t.Contains("backwards", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains("\"0\"", StringComparison.Ordinal));
        Assert.All(read.Problems.Where(p => p.Line > 1), p => Assert.InRange(p.Line, 2, 7));
    }

    [Fact]
    public void OneReading_IsTooFew() => Assert.Contains("1 reading", Assert.Single(Read("hours,reading\n5,3.2\n").Problems).Found, StringComparison.Ordinal);

    [Fact]
    public void NoReadingColumn_IsTold() => Assert.Contains(Read("hours,colour\n1,red\n2,blue\n").Problems, p => p.Accepted.Contains("reading=HEADER", StringComparison.Ordinal));

    [Fact]
    public void TwoColumnsForOneRole_AreTold() =>
        Assert.Contains(Read("hours,lamp,lamp,reading\n0,a,b,3\n1,a,b,3\n2,a,b,3\n3,a,b,2\n").Problems, p => p.Found.Contains("2 columns", StringComparison.Ordinal));

    [Fact]
    public void DuplicateHoursAndGaps_AreReadings()
    {
        var read = Read("hours,reading\n0,3.2\n0,3.21\n10,3.1\n10,3.1\n900,2.9\n");
        Assert.Empty(read.Problems);
        Assert.Equal(5, read.Log!.Rows.Length);
    }

    [Fact]
    public void RowsBeyondTheLimit_AreRefused()
    {
        var text = new StringBuilder("hours,reading\n");
        for (int i = 0; i <= LogFile.RowLimit; i++)
        {
            text.Append(i).Append(",3.2\n");
        }

        Assert.Contains("100000 rows", Assert.Single(Read(text.ToString()).Problems).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void FileThatIsTooLarge_IsRefusedUnread()
    {
        string path = Path.Combine(Path.GetTempPath(), Guid.NewGuid().ToString("N") + ".csv");
        try
        {
            using (var stream = File.Create(path))
            {
                stream.SetLength(LogFile.SizeLimit + 1);
            }

            Assert.Contains("bytes", Assert.Single(LogFile.Read(path, Plain).Problems).Found, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    public static TheoryData<string, string, string> Endless => new()
    {
        { "hours,reading\n0,", "7", "letters" },
        { "hours,reading\n", "1,", "letters" },
        { "", "column,", "letters" },
        { "hours,reading\n0,\"", "a\n", "letters" },
        { "hours,reading\n", "\"\n\",", "letters" },
        { "# ", "remark ", "letters" },
        { "hours,reading\n", "\n", "letters" },
        { "hours,reading\n", "1,2\n", "rows" },
        { "hours,reading" + string.Concat(Enumerable.Repeat(",x", 998)) + "\n", "1" + new string(',', 999) + "\n", "cells" },
    };

    [Theory]
    [MemberData(nameof(Endless))]
    public void TextWithoutEnd_IsRefusedSoon(string head, string again, string found)
    {
        // A text that never ends: whoever kept or read all of it would not come back. So memory is bounded whatever a file of 100 MB holds.
        var read = LogFile.Parse("log.csv", () => new EndlessStream(head, again), Plain);
        Assert.Contains(found, Assert.Single(read.Problems).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void MillionColumns_AreRefused()
    {
        string columns = string.Concat(Enumerable.Repeat("x,", 400_000));
        Assert.Contains("400001 columns", Assert.Single(Read(columns + "y\n1\n").Problems).Found, StringComparison.Ordinal);
        Assert.Contains("letters", Assert.Single(Read(columns + columns + columns + "y\n1\n").Problems).Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("irradiance mW/cm2", "reading", 10.0)]
    [InlineData("Irradiance, W/cm²", "reading", 1e4)]
    [InlineData("irradiance / mW/cm²", "reading", 10.0)]
    [InlineData("Irradiance in W/m2", "reading", 1.0)]
    [InlineData("mW/cm² irradiance", "reading", 10.0)]
    [InlineData("Irr. [W/cm²]", "reading", 1e4)]
    [InlineData("UV (mW/cm2)", "reading", 10.0)]
    [InlineData("mW/cm2", "reading", 10.0)]
    [InlineData("irradiance_w_per_cm2", "reading", 1e4)]
    [InlineData("Reading", "reading", null)]
    [InlineData("READING [mW/cm²]", "reading", 10.0)]
    [InlineData("As found", "reading", null)]
    [InlineData("Reading (as found)", "reading", null)]
    [InlineData("As-found W/cm²", "reading", 1e4)]
    [InlineData("As left", "as-left", null)]
    [InlineData("Reading (as left) mW/cm2", "as-left", null)]
    [InlineData("Hours", "hours", null)]
    [InlineData("run time (h)", "hours", null)]
    [InlineData("Run hrs", "hours", null)]
    [InlineData("clock_h", "hours", null)]
    [InlineData("Elapsed [hours]", "hours", null)]
    [InlineData("Operating hours", "hours", null)]
    [InlineData("Date", "time", null)]
    [InlineData("Date/Time", "time", null)]
    [InlineData("Lamp hours", "emitter-hours", null)]
    [InlineData("Lamp hrs.", "emitter-hours", null)]
    [InlineData("Burn time [h]", "emitter-hours", null)]
    [InlineData("emitter_h", "emitter-hours", null)]
    [InlineData("S/N", "emitter", null)]
    [InlineData("Lamp No", "emitter", null)]
    [InlineData("Lamp #", "emitter", null)]
    [InlineData("LAMP S/N", "emitter", null)]
    [InlineData("Serial Number", "emitter", null)]
    [InlineData("Source ID", "emitter", null)]
    [InlineData("Leg", "site", null)]
    [InlineData("Position No.", "site", null)]
    [InlineData("Before/After", "moment", null)]
    [InlineData("Drive %", "drive", null)]
    [InlineData("Power [%]", "drive", null)]
    [InlineData("Remark", "event", null)]
    [InlineData("Comments", "event", null)]
    [InlineData("Radiometer S/N", "meter", null)]
    [InlineData("Warm/Cold", "warm", null)]
    public void Header_IsTakenFor(string header, string role, double? unit)
    {
        // Beside a clock and a reading that are said, so that what is guessed is this column alone.
        string cell = role switch { "time" => "2026-01-0", "moment" => "before", "warm" => "warm", "drive" => "5", _ => "" };
        var said = ImmutableDictionary<string, string>.Empty;
        said = role == "hours" ? said : said.Add("hours", "zz clock");
        said = role == "reading" ? said : said.Add("reading", "zz value");
        string text = $"zz clock;{header};zz value\n" + string.Concat(Enumerable.Range(1, 4).Select(i => $"{i};{cell}{(role is "moment" or "warm" ? "" : i)};{i}\n"));
        var read = Read(text, Plain with { Columns = said });
        Assert.Empty(read.Problems);
        Assert.Equal([role], read.Columns.Where(c => c.Guessed).Select(c => c.Role));
        Assert.Equal(header, read.Columns.Single(c => c.Guessed).Header);
        if (unit is { } factor)
        {
            Assert.Equal(factor, read.Log!.ToWattsPerSquareMetre!.Value, 12);
        }
    }

    [Theory]
    [InlineData("hours")]
    [InlineData("Lamp temperature °C")]
    [InlineData("dose mJ/cm2")]
    public void Header_ThatIsNoReading_IsNotGuessedAsOne(string header) =>
        Assert.DoesNotContain(Read($"clock [h];{header};zz\n1;1;1\n2;2;2\n3;3;3\n4;4;4\n", Plain with { Columns = ImmutableDictionary<string, string>.Empty.Add("reading", "zz") }).Columns, c => c.Guessed && c.Role is "reading" or "as-left");

    [Fact]
    public void OneEndlessLine_IsRefusedWithoutBeingKept()
    {
        var read = Read("hours,reading\n" + new string('7', 200_000) + "\n");
        Assert.Contains("letters", Assert.Single(read.Problems).Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("lamp replaced (planned)", LogEventKind.EmitterReplaced)]
    [InlineData("bulb burnt out", LogEventKind.EmitterFailed)]
    [InlineData("new light guide", LogEventKind.GuideReplaced)]
    [InlineData("wiped tip", LogEventKind.Cleaned)]
    [InlineData("meter changed", LogEventKind.Calibrated)]
    [InlineData("adjusted to target", LogEventKind.Set)]
    [InlineData("requalified", LogEventKind.Requalified)]
    [InlineData("fork lift hit the bench", LogEventKind.Other)]
    public void Words_AreTakenForEvents(string words, LogEventKind kind) =>
        Assert.Equal(kind, Assert.Single(Read($"hours,reading,event\n0,3,\n1,3,{words}\n2,3,\n3,2,\n").Log!.Rows[1].Events).Kind);

    // The head once, then the same again for ever.
    private sealed class EndlessStream(string head, string again) : Stream
    {
        private readonly byte[] first = Encoding.UTF8.GetBytes(head), then = Encoding.UTF8.GetBytes(again);
        private long at;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => at; set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count)
        {
            for (int i = 0; i < count; i++, at++)
            {
                buffer[offset + i] = at < first.Length ? first[at] : then[(at - first.Length) % then.Length];
            }

            return count;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }

    private static LogReading Read(string text, LogChoice? choice = null) => LogFile.Parse("log.csv", () => new MemoryStream(Encoding.UTF8.GetBytes(text)), choice ?? Plain);
}
