using System.Collections;
using System.Globalization;
using System.Text;

namespace CureSim.Tests.Scenarios;

/// <summary>All of a cell as text, every number to its last bit, so that two cells can be compared (arrays compare by reference otherwise).</summary>
internal static class CellText
{
    public static string Of(object? value)
    {
        var text = new StringBuilder();
        Write(text, value, "");
        return text.ToString();
    }

    private static void Write(StringBuilder text, object? value, string path)
    {
        switch (value)
        {
            case null:
                text.Append(path).Append(" = none\n");
                break;
            case double number:
                text.Append(path).Append(" = ").Append(number.ToString("R", CultureInfo.InvariantCulture)).Append('\n');
                break;
            case string or bool or Enum or int or ulong:
                text.Append(path).Append(" = ").Append(Convert.ToString(value, CultureInfo.InvariantCulture)).Append('\n');
                break;
            case IEnumerable list:
                int i = 0;
                foreach (object? item in list)
                {
                    Write(text, item, $"{path}[{i++}]");
                }

                text.Append(path).Append(".count = ").Append(i).Append('\n');
                break;
            default:
                text.Append(path).Append(" is ").Append(value.GetType().Name).Append('\n');
                foreach (var property in value.GetType().GetProperties().Where(p => p.GetIndexParameters().Length == 0).OrderBy(p => p.Name, StringComparer.Ordinal))
                {
                    Write(text, property.GetValue(value), $"{path}.{property.Name}");
                }

                break;
        }
    }
}
