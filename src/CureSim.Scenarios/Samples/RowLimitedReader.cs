namespace CureSim.Scenarios;

/// <summary>A row is longer than any that is read.</summary>
internal sealed class RowTooLongException : Exception
{
    public RowTooLongException()
        : base("A row is too long.")
    {
    }
}

/// <summary>Hands on a text, but no more than so many letters for one row: whoever parses it cannot be made to keep more.</summary>
/// <param name="inner">The text; disposed with this.</param>
/// <param name="most">Most letters from one call of <see cref="NextRow"/> to the next.</param>
internal sealed class RowLimitedReader(TextReader inner, int most) : TextReader
{
    private long given;

    /// <summary>A row has been taken: the next may be as long again.</summary>
    public void NextRow() => given = 0;

    public override int Peek() => inner.Peek();

    public override int Read()
    {
        int letter = inner.Read();
        Count(letter < 0 ? 0 : 1);
        return letter;
    }

    public override int Read(char[] buffer, int index, int count)
    {
        int read = inner.Read(buffer, index, count);
        Count(read);
        return read;
    }

    public override int Read(Span<char> buffer)
    {
        int read = inner.Read(buffer);
        Count(read);
        return read;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            inner.Dispose();
        }

        base.Dispose(disposing);
    }

    private void Count(int letters)
    {
        given += letters;
        if (given > most)
        {
            throw new RowTooLongException();
        }
    }
}
