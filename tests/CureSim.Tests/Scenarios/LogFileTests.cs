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

    private static LogReading Read(string text, LogChoice? choice = null) => LogFile.Parse("log.csv", () => new MemoryStream(Encoding.UTF8.GetBytes(text)), choice ?? Plain);
}
