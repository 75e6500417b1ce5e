using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Contours of a field: marching squares on a fine lattice of places, the pieces joined to lines.</summary>
internal static class ContourLines
{
    /// <summary>The lines at one level.</summary>
    /// <param name="field">Values by place.</param>
    /// <param name="level">The level.</param>
    /// <param name="pitch">Width of a lattice cell, drawing units.</param>
    public static List<List<ScreenPoint>> Of(MapField field, double level, double pitch)
    {
        int columns = Math.Max(1, (int)Math.Ceiling((field.Right - field.Left) / pitch));
        int rows = Math.Max(1, (int)Math.Ceiling((field.Bottom - field.Top) / pitch));
        double dx = (field.Right - field.Left) / columns;
        double dy = (field.Bottom - field.Top) / rows;
        double[,] values = new double[columns + 1, rows + 1];
        for (int i = 0; i <= columns; i++)
        {
            for (int j = 0; j <= rows; j++)
            {
                values[i, j] = field.At(field.Left + (i * dx), field.Top + (j * dy));
            }
        }

        var links = new SortedDictionary<long, List<long>>();
        var places = new Dictionary<long, ScreenPoint>();
        for (int i = 0; i < columns; i++)
        {
            for (int j = 0; j < rows; j++)
            {
                AddCell(i, j);
            }
        }

        return Join(links, places);

        void AddCell(int i, int j)
        {
            double a = values[i, j], b = values[i + 1, j], c = values[i + 1, j + 1], d = values[i, j + 1];
            if (double.IsNaN(a + b + c + d))
            {
                return;
            }

            List<long> crossings = [];
            Cross(Edge(i, j, 0), a, b, i, j, i + 1, j, crossings);
            Cross(Edge(i + 1, j, 1), b, c, i + 1, j, i + 1, j + 1, crossings);
            Cross(Edge(i, j + 1, 0), d, c, i, j + 1, i + 1, j + 1, crossings);
            Cross(Edge(i, j, 1), a, d, i, j, i, j + 1, crossings);
            if (crossings.Count == 2)
            {
                Link(crossings[0], crossings[1]);
            }
            else if (crossings.Count == 4)
            {
                // A saddle: the middle decides which corners belong together. Order of the crossings: top, right, bottom, left.
                bool middleWithA = ((a + b + c + d) / 4 > level) == (a > level);
                Link(crossings[0], crossings[middleWithA ? 1 : 3]);
                Link(crossings[2], crossings[middleWithA ? 3 : 1]);
            }
        }

        long Edge(int i, int j, int direction) => (((long)i * (rows + 2)) + j) * 2 + direction;

        void Cross(long edge, double from, double to, int i0, int j0, int i1, int j1, List<long> crossings)
        {
            if (from > level == to > level)
            {
                return;
            }

            double share = (level - from) / (to - from);
            places[edge] = new ScreenPoint(field.Left + (dx * (i0 + (share * (i1 - i0)))), field.Top + (dy * (j0 + (share * (j1 - j0)))));
            crossings.Add(edge);
        }

        void Link(long from, long to)
        {
            Neighbours(from).Add(to);
            Neighbours(to).Add(from);
        }

        List<long> Neighbours(long edge) => links.TryGetValue(edge, out List<long>? list) ? list : links[edge] = [];
    }

    /// <summary>Each crossing has one neighbour (an end) or two; open lines are walked from their ends, what is left are rings.</summary>
    private static List<List<ScreenPoint>> Join(SortedDictionary<long, List<long>> links, Dictionary<long, ScreenPoint> places)
    {
        List<List<ScreenPoint>> lines = [];
        var seen = new HashSet<long>();
        foreach (long start in links.Keys.Where(k => links[k].Count == 1).Concat(links.Keys))
        {
            if (!seen.Add(start))
            {
                continue;
            }

            List<ScreenPoint> line = [places[start]];
            long at = start;
            while (links[at].Where(n => !seen.Contains(n)).Cast<long?>().FirstOrDefault() is { } next)
            {
                seen.Add(next);
                line.Add(places[next]);
                at = next;
            }

            if (links[start].Count == 2 && links[at].Contains(start) && line.Count > 2)
            {
                line.Add(places[start]);
            }

            lines.Add(line);
        }

        return lines;
    }
}
