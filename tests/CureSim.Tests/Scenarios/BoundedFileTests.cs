using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Reading ends, whatever is read.</summary>
public class BoundedFileTests
{
    [Fact]
    public void AFileIsReadWhole_AndALongerOneNot()
    {
        string path = Path.GetTempFileName();
        try
        {
            byte[] bytes = [.. Enumerable.Range(0, 200_000).Select(i => (byte)i)];
            File.WriteAllBytes(path, bytes);
            Assert.Equal(bytes, BoundedFile.Read(path, 200_000));
            Assert.Throws<IOException>(() => BoundedFile.Read(path, 199_999));
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void ADeviceWithoutEnd_IsNotReadToItsEnd()
    {
        if (File.Exists("/dev/zero"))
        {
            Assert.Throws<IOException>(() => BoundedFile.Read("/dev/zero", 1 << 20));
        }
    }
}
