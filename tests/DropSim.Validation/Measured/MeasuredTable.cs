using System.Globalization;

namespace DropSim.Validation.Measured;

/// <summary>A table of published numbers in Measured/Data: a line of heads, then rows, commas between.</summary>
internal static class MeasuredTable
{
    /// <summary>The rows of a table.</summary>
    public static IReadOnlyList<Row> Read(string file)
    {
        using var stream = typeof(MeasuredTable).Assembly.GetManifestResourceStream(file) ?? throw new FileNotFoundException(file);
        using var reader = new StreamReader(stream);
        var heads = reader.ReadLine()!.Split(',');
        List<Row> rows = [];
        while (reader.ReadLine() is { Length: > 0 } line)
        {
            var cells = line.Split(',');
            if (cells.Length != heads.Length)
            {
                throw new FormatException($"{file}: '{line}' has {cells.Length} cells, expected {heads.Length}.");
            }

            rows.Add(new(heads, cells));
        }

        return rows;
    }

    /// <summary>A row, its cells by their heads.</summary>
    internal sealed class Row(string[] heads, string[] cells)
    {
        public string this[string head] => cells[Array.IndexOf(heads, head)];

        /// <summary>A number; NaN where the cell is empty.</summary>
        public double Number(string head) => this[head] is { Length: > 0 } text ? double.Parse(text, CultureInfo.InvariantCulture) : double.NaN;
    }
}
