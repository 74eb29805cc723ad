using CsvHelper;
using DropSim.Model;

namespace DropSim.Reporting.Files;

/// <summary>The curves of one drop as a CSV file: UTF-8, commas, LF, point as decimal mark, all digits; an unknown value is empty.</summary>
internal static class TraceCsv
{
    private const string PhaseColumn = "phase";

    /// <summary>Writes header and rows.</summary>
    /// <param name="table">The curves, SI.</param>
    /// <param name="units">Units wanted; the column names say which.</param>
    /// <param name="stream">Where to.</param>
    internal static void Write(TraceTable table, UnitSystem units, Stream stream)
    {
        using var csv = CsvWriter.Create(stream, new CsvWriterOptions { NewLine = "\n" }, true);
        csv.WriteHeader([.. table.Columns.Select(c => Units.ColumnName(c.Name, c.Unit, units)), PhaseColumn]);
        var factors = table.Columns.Select(c => Units.Plain(c.Unit, units).Factor).ToArray();
        for (var row = 0; row < table.RowCount; row++)
        {
            for (var column = 0; column < table.Columns.Count; column++)
            {
                var value = table.Columns[column].Values.Span[row];
                if (double.IsFinite(value))
                {
                    csv.WriteField(value * factors[column]);
                }
                else
                {
                    csv.WriteField("");
                }
            }

            csv.WriteField(table.Phase[row]);
            csv.EndRecord();
        }
    }
}
