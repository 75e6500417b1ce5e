using System.Text;

namespace CureSim.Scenarios;

/// <summary>The tables of the format's documentation, made from the key table that the reader reads by.</summary>
public static class FormatTables
{
    /// <summary>Markdown: one table a block, then laws, distributions and units.</summary>
    public static string Write()
    {
        var text = new StringBuilder();
        Block(text, ScenarioKeys.Root, "The file");
        foreach (Key key in ScenarioKeys.Root.Keys)
        {
            switch (key.Shape)
            {
                case BlockShape block:
                    Block(text, block.Table, $"`{key.Name}`");
                    break;
                case ListShape { Item: BlockShape item }:
                    Block(text, item.Table, $"`{key.Name}`, a list");
                    break;
            }
        }

        Distributions(text);
        Units(text);
        return text.ToString();
    }

    private static void Block(StringBuilder text, BlockTable table, string title)
    {
        text.Append("### ").Append(title).Append("\n\n");
        if (table.Name.Length > 0)
        {
            text.Append(table.Meaning).Append("\n\n");
        }

        Rows(text, table, "");
        foreach (Key key in table.Keys.Where(k => k.Shape is LawShape))
        {
            foreach (BlockTable law in ((LawShape)key.Shape).Laws)
            {
                text.Append("`").Append(key.Name).Append(": { ").Append(law.Name).Append(": { … } }` — ").Append(Cell(law.Meaning)).Append("\n\n");
                Rows(text, law, "");
            }
        }
    }

    private static void Rows(StringBuilder text, BlockTable table, string prefix)
    {
        if (prefix.Length == 0)
        {
            text.Append("| key | value | when left out | meaning |\n|---|---|---|---|\n");
        }

        foreach (Key key in table.Keys)
        {
            bool isRoot = table.Name.Length == 0;
            text.Append("| `").Append(prefix).Append(key.Name).Append("` | ").Append(Cell(Value(key, isRoot))).Append(" | ");
            text.Append(Cell(LeftOut(key))).Append(" | ").Append(Cell(key.Meaning)).Append(" |\n");
            BlockTable? inner = isRoot ? null : key.Shape switch { BlockShape b => b.Table, ListShape { Item: BlockShape b } => b.Table, _ => null };
            if (inner is not null)
            {
                Rows(text, inner, prefix + key.Name + (key.Shape is ListShape ? "[]." : "."));
            }
        }

        if (prefix.Length == 0)
        {
            text.Append('\n');
        }
    }

    private static string Value(Key key, bool isRoot) => key.Shape switch
    {
        TextShape => "text",
        ChoiceShape choice => string.Join(", ", choice.Words.Select(w => $"`{w}`")),
        YesNoShape => "`true`, `false`",
        CountShape => "whole number",
        ValueShape value => Kind(value.Dimension, value.Words),
        ValuesShape values => Kind(values.Dimension, []) + ", or a list",
        QuantityShape { Kind: QuantityKind.RelativeError } quantity => $"relative error; {ScenarioWords.LevelWord(quantity.Level)}",
        QuantityShape { Kind: QuantityKind.Deviation } quantity => $"deviation ({quantity.Dimension.ShownUnit}); {ScenarioWords.LevelWord(quantity.Level)}",
        QuantityShape quantity => $"{Kind(quantity.Dimension, quantity.Words)}; {ScenarioWords.LevelWord(quantity.Level)}",
        BlockShape => isRoot ? "block, below" : "block",
        ListShape { Item: ChoiceShape choice } => "list of " + string.Join(", ", choice.Words.Select(w => $"`{w}`")),
        ListShape { Item: ValueShape value } => "list of " + Kind(value.Dimension, value.Words),
        ListShape => "list",
        LawShape law => string.Join(", ", law.Laws.Select(l => $"`{l.Name}`").Concat(law.Words.Select(w => $"`{w}`")).Concat(law.Candidates ? ["`candidates`"] : [])),
        _ => "",
    };

    private static string Kind(Dimension dimension, string[] words)
    {
        string kind = dimension.Form == DimensionForm.Bare ? "number" : $"{Bare(dimension.Name)} ({dimension.ShownUnit})";
        return kind + string.Concat(words.Select(w => $" or `{w}`"));
    }

    private static string LeftOut(Key key)
    {
        if (key.Required)
        {
            return "**required**";
        }

        string defaults = string.Join("; ", key.Defaults.Select(d =>
            $"{(d.Variant is null ? key.Defaults.Length > 1 ? "else " : "" : d.Variant + ": ")}`{d.Text}`{(d.Origin == Origin.Typical ? " (typical)" : "")}"));
        string required = !key.Defaults.IsEmpty && key.Defaults.All(d => d.Variant is not null) ? "; else **required**" : "";
        return defaults.Length > 0 ? defaults + required : key.WhenLeftOut!;
    }

    private static void Distributions(StringBuilder text)
    {
        text.Append("### Distributions\n\n| distribution | parameters | example | note |\n|---|---|---|---|\n");
        foreach (DistributionForm form in DistributionForm.All)
        {
            string sets = form.Sets.Length == 0 ? "list of `value`, `weight`"
                : string.Join("; or ", form.Sets.Select(s => string.Join(", ", s.Select(p => $"`{p.Name}` {p.Meaning}"))));
            text.Append("| `").Append(form.Name).Append("` | ").Append(Cell(sets)).Append(" | `").Append(Cell(form.Sample)).Append("` | ");
            text.Append(Cell(form.Meaning)).Append(" |\n");
        }

        text.Append('\n');
    }

    private static void Units(StringBuilder text)
    {
        text.Append("### Units\n\n| value | units | example |\n|---|---|---|\n");
        foreach (Dimension dimension in Dimension.All)
        {
            string units = dimension.Form == DimensionForm.Bare ? "none" : dimension.UnitsListed;
            text.Append("| ").Append(Bare(dimension.Name)).Append(" | ").Append(Cell(units)).Append(" | `").Append(dimension.Example).Append("` |\n");
        }
    }

    private static string Bare(string name) => name.StartsWith("an ", StringComparison.Ordinal) ? name[3..] : name.StartsWith("a ", StringComparison.Ordinal) ? name[2..] : name;

    private static string Cell(string text) => text.Replace("|", "\\|");
}
