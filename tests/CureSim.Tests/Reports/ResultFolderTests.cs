using CureSim.Reports.Folders;

namespace CureSim.Tests.Reports;

public class ResultFolderTests
{
    private static readonly RunRecord Record = new()
    {
        Version = "0.1.0",
        Commit = "abc123",
        Command = "run",
        Scenario = "Hub bond",
        ScenarioSha256 = RunRecord.Hash("x"u8),
        Seed = 20261,
        Lifetimes = 5000,
        Threads = 2,
        Runtime = ".NET 10",
        Machine = "Linux x64, 2 processors, 512-bit vectors",
        Started = new DateTimeOffset(2026, 3, 1, 12, 0, 0, TimeSpan.FromHours(1)),
        DurationSeconds = 1.5,
        ExposuresPerSecond = 2.5e7,
    };

    [Fact]
    public void Complete_NewFolder_HoldsFilesAndRecord()
    {
        using var scratch = new ScratchFolder();
        string target = scratch.In("output", "hub", "run");
        Write(target, "first");

        Assert.Equal(["record.json", "summary.json", "tables"], Names(target));
        FolderInspection inspection = FolderInspection.Of(target);
        Assert.True(inspection.IsIntact);
        Assert.Equal(["summary.json", "tables/a.csv"], inspection.Record!.Files.Keys);

        // SHA-256 of "abc". Source: NIST FIPS 180-4 example computation (published figure recalled from memory).
        Assert.Equal("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", RunRecord.Hash("abc"u8));
        Assert.Equal(RunRecord.Hash("first"u8), inspection.Record.Files["summary.json"].Sha256);
        Assert.Equal(5, inspection.Record.Files["summary.json"].Bytes);
        Assert.Equal(["run"], Names(scratch.In("output", "hub")));
    }

    [Fact]
    public void Dispose_WithoutComplete_LeavesNothing()
    {
        using var scratch = new ScratchFolder();
        using (ResultFolder folder = ResultFolder.Begin(scratch.In("output", "hub", "run")))
        {
            folder.Add("summary.json", "half");
            Assert.Single(Directory.GetDirectories(scratch.In("output", "hub")));
            Assert.False(Directory.Exists(folder.Target));
        }

        Assert.Empty(Directory.GetFileSystemEntries(scratch.Path));
    }

    [Fact]
    public void Dispose_WithoutComplete_KeepsParentsThatWereThere()
    {
        using var scratch = new ScratchFolder();
        Directory.CreateDirectory(scratch.In("output"));
        ResultFolder.Begin(scratch.In("output", "hub", "run")).Dispose();
        Assert.Equal(["output"], Names(scratch.Path));
        Assert.Empty(Names(scratch.In("output")));
    }

    [Fact]
    public void Complete_FormerResult_ReplacedOnlyWhenComplete()
    {
        using var scratch = new ScratchFolder();
        string target = scratch.In("run");
        Write(target, "first", "old.csv");
        using (ResultFolder folder = ResultFolder.Begin(target))
        {
            folder.Add("summary.json", "second");
            Assert.Equal("first", File.ReadAllText(Path.Combine(target, "summary.json")));
        }

        Assert.Equal("first", File.ReadAllText(Path.Combine(target, "summary.json")));
        Write(target, "second");
        Assert.Equal("second", File.ReadAllText(Path.Combine(target, "summary.json")));
        Assert.False(File.Exists(Path.Combine(target, "old.csv")));
        Assert.Equal(["run"], Names(scratch.Path));
    }

    [Fact]
    public void Begin_FormerResultWithMissingFile_Replaced()
    {
        using var scratch = new ScratchFolder();
        string target = scratch.In("run");
        Write(target, "first");
        File.Delete(Path.Combine(target, "tables", "a.csv"));
        Write(target, "second");
        Assert.True(FolderInspection.Of(target).IsIntact);
    }

    [Fact]
    public void Begin_EmptyFolder_Replaced()
    {
        using var scratch = new ScratchFolder();
        Directory.CreateDirectory(scratch.In("run", "empty"));
        Write(scratch.In("run"), "first");
        Assert.True(FolderInspection.Of(scratch.In("run")).IsIntact);
    }

    [Fact]
    public void Begin_FolderOfSomeoneElse_RefusedAndUntouched()
    {
        using var scratch = new ScratchFolder();
        Directory.CreateDirectory(scratch.In("run"));
        File.WriteAllText(scratch.In("run", "thesis.txt"), "years of work");
        Refused(scratch, "thesis.txt", "--out");
        Assert.Equal("years of work", File.ReadAllText(scratch.In("run", "thesis.txt")));
    }

    [Fact]
    public void Begin_RecordOfAnotherTool_Refused()
    {
        using var scratch = new ScratchFolder();
        Directory.CreateDirectory(scratch.In("run"));
        File.WriteAllText(scratch.In("run", "record.json"), "{ \"files\": {} }");
        Refused(scratch, "record.json", "--out");
    }

    [Fact]
    public void Begin_FileAdded_RefusedByName()
    {
        using var scratch = new ScratchFolder();
        Write(scratch.In("run"), "first");
        File.WriteAllText(scratch.In("run", "tables", "notes.txt"), "mine");
        Refused(scratch, "tables/notes.txt", "did not write");
    }

    [Fact]
    public void Begin_FileChanged_RefusedByName()
    {
        using var scratch = new ScratchFolder();
        Write(scratch.In("run"), "first");
        File.WriteAllText(scratch.In("run", "summary.json"), "fIrst"); // same length
        Refused(scratch, "summary.json", "was changed");
    }

    [Fact]
    public void Begin_RecordChanged_Refused()
    {
        using var scratch = new ScratchFolder();
        Write(scratch.In("run"), "first");
        string record = scratch.In("run", "record.json");
        File.WriteAllText(record, File.ReadAllText(record).Replace("Hub bond", "My bond", StringComparison.Ordinal));
        Refused(scratch, "record.json", "changed by hand");
    }

    [Fact]
    public void Begin_LinkInside_RefusedAndNotFollowed()
    {
        using var scratch = new ScratchFolder();
        Directory.CreateDirectory(scratch.In("elsewhere"));
        File.WriteAllText(scratch.In("elsewhere", "keep.txt"), "keep");
        Write(scratch.In("run"), "first");
        Directory.CreateSymbolicLink(scratch.In("run", "link"), scratch.In("elsewhere"));
        Refused(scratch, "link", "did not write");
        Assert.True(File.Exists(scratch.In("elsewhere", "keep.txt")));
    }

    [Fact]
    public void Begin_TargetIsLinkOrFileOrRoot_Refused()
    {
        using var scratch = new ScratchFolder();
        Write(scratch.In("real"), "first");
        Directory.CreateSymbolicLink(scratch.In("run"), scratch.In("real"));
        Refused(scratch, "is a link");
        File.WriteAllText(scratch.In("file"), "");
        Assert.Contains("is a file", Assert.Throws<ResultFolderException>(() => ResultFolder.Begin(scratch.In("file"))).Message, StringComparison.Ordinal);
        Assert.Throws<ResultFolderException>(() => ResultFolder.Begin(Path.GetPathRoot(scratch.Path)!));
    }

    [Fact]
    public void Begin_ParentIsAFile_OneSentence()
    {
        using var scratch = new ScratchFolder();
        File.WriteAllText(scratch.In("file"), "");
        var error = Assert.Throws<ResultFolderException>(() => ResultFolder.Begin(scratch.In("file", "run")));
        Assert.DoesNotContain('\n', error.Message);
        Assert.Contains("Cannot write", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Complete_FileSavedIntoTheTargetMeanwhile_RefusedAndBothKept()
    {
        using var scratch = new ScratchFolder();
        string target = scratch.In("run");
        Write(target, "first");
        using (ResultFolder folder = ResultFolder.Begin(target))
        {
            folder.Add("summary.json", "second");
            File.WriteAllText(Path.Combine(target, "notes.txt"), "mine");
            Assert.Contains("notes.txt", Assert.Throws<ResultFolderException>(() => folder.Complete(Record)).Message, StringComparison.Ordinal);
        }

        Assert.Equal("mine", File.ReadAllText(Path.Combine(target, "notes.txt")));
        Assert.Equal("first", File.ReadAllText(Path.Combine(target, "summary.json")));
        Assert.Equal(["run"], Names(scratch.Path));
    }

    [Fact]
    public void Add_PlaceTakenAway_OneSentenceAndDisposeIsQuiet()
    {
        using var scratch = new ScratchFolder();
        using ResultFolder folder = ResultFolder.Begin(scratch.In("run"));
        string work = Assert.Single(Directory.GetDirectories(scratch.Path));
        Directory.Delete(work);
        File.WriteAllText(work, ""); // a file now stands where the folder was
        var error = Assert.Throws<ResultFolderException>(() => folder.Add("tables/a.csv", "x"));
        Assert.Contains("tables/a.csv", error.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', error.Message);
        Assert.Throws<ResultFolderException>(() => folder.Complete(Record));
        Assert.False(Path.Exists(folder.Target));
    }

    [Fact]
    public void MoveIntoPlace_SecondRenameFails_FormerResultIsPutBack()
    {
        using var scratch = new ScratchFolder();
        Write(scratch.In("run"), "first");
        Assert.ThrowsAny<IOException>(() => Replacing.MoveIntoPlace(scratch.In("not there"), scratch.In("run"), scratch.In("aside")));
        Assert.True(FolderInspection.Of(scratch.In("run")).IsIntact);
        Assert.Equal(["run"], Names(scratch.Path));
    }

    [Fact]
    public void Complete_TwoAtOnce_LastOneStandsWhole()
    {
        using var scratch = new ScratchFolder();
        string target = scratch.In("run");
        using ResultFolder one = ResultFolder.Begin(target);
        using ResultFolder two = ResultFolder.Begin(target);
        one.Add("summary.json", "one");
        two.Add("summary.json", "two");
        one.Complete(Record);
        two.Complete(Record);
        Assert.Equal("two", File.ReadAllText(Path.Combine(target, "summary.json")));
        Assert.True(FolderInspection.Of(target).IsIntact);
        Assert.Equal(["run"], Names(scratch.Path));
        Assert.Throws<ObjectDisposedException>(() => one.Add("late.txt", ""));
        Assert.Throws<ObjectDisposedException>(() => one.Complete(Record));
    }

    [Theory]
    [InlineData("")]
    [InlineData("../escape.txt")]
    [InlineData("a/../../escape.txt")]
    [InlineData("./a")]
    [InlineData("/etc/passwd")]
    [InlineData("C:\\x")]
    [InlineData("C:x")]
    [InlineData("a\\b")]
    [InlineData("a//b")]
    [InlineData("a/")]
    [InlineData("NUL")]
    [InlineData("tables/con.csv")]
    [InlineData("com1 .txt")]
    [InlineData("a.")]
    [InlineData("a ")]
    [InlineData(" a")]
    [InlineData("a\u0000b")]
    [InlineData("what?.txt")]
    [InlineData("record.json")]
    [InlineData("RECORD.json")]
    public void Add_NameNotAllowed_Refused(string name)
    {
        using var scratch = new ScratchFolder();
        using ResultFolder folder = ResultFolder.Begin(scratch.In("run"));
        Assert.Throws<ArgumentException>(() => folder.Add(name, "x"));
        Assert.Empty(folder.Files);
    }

    [Theory]
    [InlineData("a.txt", "a.txt")]
    [InlineData("a.txt", "A.TXT")]
    [InlineData("a", "a/b")]
    [InlineData("a/b", "A")]
    public void Add_NameTaken_Refused(string first, string second)
    {
        using var scratch = new ScratchFolder();
        using ResultFolder folder = ResultFolder.Begin(scratch.In("run"));
        folder.Add(first, "x");
        Assert.Throws<ArgumentException>(() => folder.Add(second, "y"));
    }

    [Fact]
    public void Record_Bytes_ReadBackAndAreStable()
    {
        byte[] bytes = Record.ToBytes();
        RunRecord read = RunRecord.Read(bytes)!;
        Assert.Equal(bytes, read.ToBytes());
        Assert.Equal(Record with { Started = read.Started, Files = read.Files }, read);
        Assert.Equal(Record.Started, read.Started); // the same moment, now in universal time
        Assert.StartsWith("{\n  \"curesim\": 1,", System.Text.Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
        Assert.Contains("2026-03-01T11:00:00Z", System.Text.Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
        Assert.Equal(ulong.MaxValue, RunRecord.Read((Record with { Seed = ulong.MaxValue }).ToBytes())!.Seed);
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("null")]
    [InlineData("{}")]
    [InlineData("{\"curesim\":1}")]
    [InlineData("{\"curesim\":\"yes\"}")]
    [InlineData("{\"curesim\":1,\"curesim\":1}")]
    [InlineData("{\"curesim\":1,\"version\":1,\"files\":[]}")]
    public void Record_NotOne_IsNull(string text) => Assert.Null(RunRecord.Read(System.Text.Encoding.UTF8.GetBytes(text)));

    [Fact]
    public void Files_SameContent_SameBytesWhateverTheRecordSays()
    {
        using var scratch = new ScratchFolder();
        Write(scratch.In("a"), "same");
        using (ResultFolder folder = ResultFolder.Begin(scratch.In("b")))
        {
            folder.Add("tables/a.csv", "x\n1\n");
            folder.Add("summary.json", "same");
            folder.Complete(Record with { Threads = 7, DurationSeconds = 99, Started = Record.Started.AddDays(3) });
        }

        foreach (string name in (string[])["summary.json", "tables/a.csv"])
        {
            Assert.Equal(File.ReadAllBytes(scratch.In("a", name)), File.ReadAllBytes(scratch.In("b", name)));
        }

        Assert.Equal(FolderInspection.Of(scratch.In("a")).Record!.Files, FolderInspection.Of(scratch.In("b")).Record!.Files);
    }

    private static void Write(string target, string summary, params string[] more)
    {
        using ResultFolder folder = ResultFolder.Begin(target);
        folder.Add("summary.json", summary);
        folder.Add("tables/a.csv", "x\n1\n");
        foreach (string name in more)
        {
            folder.Add(name, "");
        }

        folder.Complete(Record);
        Assert.Null(folder.LeftBehind);
    }

    private static void Refused(ScratchFolder scratch, params string[] says)
    {
        var error = Assert.Throws<ResultFolderException>(() => ResultFolder.Begin(scratch.In("run")));
        Assert.All(says, s => Assert.Contains(s, error.Message, StringComparison.Ordinal));
        Assert.DoesNotContain('\n', error.Message);
        Assert.DoesNotContain(Names(scratch.Path), n => n.StartsWith('.'));
    }

    private static string[] Names(string folder) =>
        [.. Directory.GetFileSystemEntries(folder).Select(p => Path.GetFileName(p)!).Order(StringComparer.Ordinal)];
}
