using System.Globalization;
using System.Text.RegularExpressions;
using CureSim.Core.Random;

namespace CureSim.Checks.Published;

/// <summary>Rows of the random number generator and of uniforms.</summary>
internal static partial class RandomRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["RNG-PHX-"] = row =>
        {
            uint[] w = [.. Words().Matches(row.Inputs).Select(m => Hex(m.Value))];
            var (a, b, c, d) = Philox4x32.Block(w[0], w[1], w[2], w[3], w[4], w[5]);
            uint[] found = [a, b, c, d];
            string[] expected = row.ExpectedText.Split(' ');
            for (int i = 0; i < 4; i++)
            {
                row.Equal($"word {i}", Hex(expected[i]), found[i], 0);
            }
        },

        ["RNG-SOB-"] = row =>
        {
            uint point = uint.Parse(row.Id["RNG-SOB-".Length..], CultureInfo.InvariantCulture);
            var points = SobolPoints.Plain(5);
            row.CheckList("", [.. Enumerable.Range(0, 5).Select(d => points.At(point, d))]);
        },
        ["RNG-DISC"] = row => row.CheckList("", [CentredDiscrepancy.Of(SobolPoints.Plain(2), 8), CentredDiscrepancy.Of(SobolPoints.Plain(5), 16)]),

        // Ours adds half a unit of 2⁻⁵³, so that 0 cannot come: that and one rounding are allowed.
        ["RNG-U53"] = row => row.Check("u", Draw.FromWords(0x6627e8d5, 0xe169c58d), 1.2e-16),
    };

    private static uint Hex(string s) => uint.Parse(s, NumberStyles.HexNumber, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"\b[0-9a-f]{8}\b")]
    private static partial Regex Words();
}
