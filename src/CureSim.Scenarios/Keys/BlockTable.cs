namespace CureSim.Scenarios;

/// <summary>The keys of one block.</summary>
/// <param name="Name">Its key.</param>
/// <param name="Meaning">What it is.</param>
/// <param name="Keys">In the order in which they are read and written.</param>
internal sealed record BlockTable(string Name, string Meaning, Key[] Keys)
{
    public Key this[string name] => Keys.FirstOrDefault(k => k.Name == name)
        ?? throw new ArgumentException($"the table of \"{Name}\" has no key \"{name}\"", nameof(name));
}
