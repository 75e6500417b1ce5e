using CureSim.Cli;

var terminal = Terminal.Open();
using var interruption = Interruption.Listen();
try
{
    return new CommandTree(CommandList.All, terminal, interruption).Run(args);
}
catch (Exception e)
{
    return Faults.Answer(terminal, e);
}
