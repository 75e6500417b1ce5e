namespace CureSim.Reports.Folders;

/// <summary>Results cannot be written: the message is one sentence for the user, who is not at fault in the scenario (exit code 3).</summary>
public sealed class ResultFolderException : IOException
{
    /// <summary>With a message for the user.</summary>
    public ResultFolderException(string message)
        : base(message)
    {
    }

    /// <summary>With a message for the user and what the system reported.</summary>
    public ResultFolderException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
