namespace CureSim.Scenarios;

/// <summary>What the readers of all blocks share during one reading.</summary>
internal sealed class ReadContext(Findings findings, DataFolder data, DeclaredOrigins origins)
{
    private readonly Dictionary<string, Place> places = [];

    public Findings Findings { get; } = findings;

    public DataFolder Data { get; } = data;

    public DeclaredOrigins Origins { get; } = origins;

    public WorkCalendar Clock { get; set; } = WorkCalendar.Unknown;

    public List<InputNote> Inputs { get; } = [];

    /// <summary>Correlations of unknowns as they are written: of, with, coefficient, where.</summary>
    public List<(string Of, string With, double Coefficient, Place Place)> Correlations { get; } = [];

    /// <summary>Keys of opened blocks that no reader asked for: a gap between key table and reader. Looked at by a test.</summary>
    public List<Func<IEnumerable<string>>> Unread { get; } = [];

    /// <summary>Remembers where a path is written; values that were left out have no place of their own.</summary>
    public void Remember(string path, ScenarioNode node)
    {
        if (node.Place.File != DefaultPlace.File)
        {
            places[path] = node.Place;
        }
    }

    /// <summary>Place of a path, or of the nearest block around it that is written.</summary>
    public Place PlaceOf(string path)
    {
        while (true)
        {
            if (places.TryGetValue(path, out Place place))
            {
                return place;
            }

            int dot = path.LastIndexOf('.');
            if (dot < 0)
            {
                return places.GetValueOrDefault("");
            }

            path = path[..dot];
        }
    }

    /// <summary>Place of texts that come from the key table.</summary>
    public static readonly Place DefaultPlace = Place.Of("(default)");

    /// <summary>Reads a text of the key table.</summary>
    public static ScenarioNode NodeOf(string text, Origin origin)
    {
        var faults = new Findings();
        return YamlTree.Read(text, DefaultPlace, origin, faults) is { } node && !faults.Any
            ? node
            : throw new InvalidOperationException($"the key table's text \"{text}\" is not YAML");
    }
}
