using System.Runtime.InteropServices;

namespace CureSim.Cli;

/// <summary>Ctrl-C (and a request to terminate): work stops within a second, and whoever holds something half-made puts it away.</summary>
internal sealed class Interruption : IDisposable
{
    /// <summary>How long a computation may take to notice before it is left behind.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(500);

    private readonly CancellationTokenSource source = new();
    private readonly PosixSignalRegistration[] signals;

    private Interruption() => signals = [PosixSignalRegistration.Create(PosixSignal.SIGINT, Handle), PosixSignalRegistration.Create(PosixSignal.SIGTERM, Handle)];

    /// <summary>Set when the user wants to stop.</summary>
    public CancellationToken Token => source.Token;

    /// <summary>Starts to listen.</summary>
    public static Interruption Listen() => new();

    /// <summary>Runs a computation that writes nothing. When it does not notice an interruption soon enough it is left behind: it ends with the process.</summary>
    /// <exception cref="OperationCanceledException">The user interrupted.</exception>
    public T Compute<T>(Func<T> work)
    {
        var task = Task.Factory.StartNew(work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        if (WaitHandle.WaitAny([((IAsyncResult)task).AsyncWaitHandle, Token.WaitHandle]) == 1 && !((IAsyncResult)task).AsyncWaitHandle.WaitOne(Patience))
        {
            throw new OperationCanceledException(Token);
        }

        T answer = task.GetAwaiter().GetResult();
        Token.ThrowIfCancellationRequested();
        return answer;
    }

    public void Dispose()
    {
        foreach (var signal in signals)
        {
            signal.Dispose();
        }

        source.Dispose();
    }

    // The second signal is left to the system, which ends the process at once.
    private void Handle(PosixSignalContext context)
    {
        context.Cancel = !source.IsCancellationRequested;
        if (context.Cancel)
        {
            source.Cancel();
        }
    }
}
