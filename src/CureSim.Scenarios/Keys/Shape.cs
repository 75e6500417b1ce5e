using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>What may stand after a key.</summary>
internal abstract record Shape;

/// <summary>Free text.</summary>
internal sealed record TextShape : Shape;

/// <summary>One of a few words.</summary>
internal sealed record ChoiceShape(string[] Words) : Shape;

/// <summary>true or false.</summary>
internal sealed record YesNoShape : Shape;

/// <summary>A whole number without unit.</summary>
internal sealed record CountShape(ulong Least, ulong Most) : Shape;

/// <summary>One value that does not vary.</summary>
internal sealed record ValueShape(Dimension Dimension, Bounds Bounds, string[] Words) : Shape;

/// <summary>One such value for all, or a list with one for each.</summary>
internal sealed record ValuesShape(Dimension Dimension, Bounds Bounds) : Shape;

/// <summary>A value or a distribution.</summary>
internal sealed record QuantityShape(Dimension Dimension, Level Level, Bounds Bounds, QuantityKind Kind, string[] Words) : Shape;

/// <summary>A block of keys.</summary>
internal sealed record BlockShape(BlockTable Table) : Shape;

/// <summary>Exactly one of several named laws with their parameters, or a word.</summary>
/// <param name="Laws">The laws.</param>
/// <param name="Words">Words accepted in place of a law.</param>
/// <param name="Candidates">True when "candidates" may list several laws with weights, of which one is true.</param>
internal sealed record LawShape(BlockTable[] Laws, string[] Words, bool Candidates) : Shape;

/// <summary>A list.</summary>
internal sealed record ListShape(Shape Item) : Shape;

/// <summary>How a bare value of an uncertain input is understood.</summary>
internal enum QuantityKind
{
    /// <summary>As the value itself.</summary>
    Value,

    /// <summary>Deviation about 0, added: a bare value other than 0 could mean a shift or a spread, and is refused.</summary>
    Deviation,

    /// <summary>ln of a factor: a bare "4 %" is the standard deviation of a normal distribution about 0.</summary>
    RelativeError,
}
