using CureSim.Reports.Reproduce;

namespace CureSim.Tests.Reports;

/// <summary>Lists of inputs that differ in data files only are the same; any other difference is one.</summary>
public class InputListsTests
{
    private const string Head = "input,value,origin\n";
    private const string Then = Head + "a.b,1 mm,yours\nc.d,\"{ empirical: { csv: x.csv, column: y } }\",yours\ne.table.csv,f.csv,yours\ne.table.column,y,yours\ne.table.points,4 points,yours\ng,2,default\n";
    private const string Now = Head + "a.b,1 mm,yours\nc.d,\"{ empirical: [ 1 mm, 2 mm ] }\",yours\ne.table.points,4 points,yours\ng,2,default\n";

    [Fact]
    public void DataFilesOnly_IsTheSame() => Assert.True(InputLists.SameButForDataFiles(Then, Now));

    [Theory]
    [InlineData("1 mm,yours", "1.1 mm,yours")]
    [InlineData("g,2,default", "g,3,default")]
    [InlineData("g,2,default\n", "")]
    [InlineData("g,2,default", "h,2,default")]
    [InlineData("c.d,\"{ empirical: [ 1 mm, 2 mm ] }\",yours\n", "")]
    [InlineData("a.b,1 mm,yours\n", "a.b,1 mm,yours\na.b,1 mm,yours\n")]
    public void AnythingElse_IsADifference(string text, string other)
    {
        Assert.Contains(text, Now, StringComparison.Ordinal);
        Assert.False(InputLists.SameButForDataFiles(Then, Now.Replace(text, other, StringComparison.Ordinal)));
    }

    [Fact]
    public void RecordedWithoutDataFiles_MayNotDiffer() => Assert.False(InputLists.SameButForDataFiles(Now, Then));
}
