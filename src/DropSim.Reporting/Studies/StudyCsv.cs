using CsvHelper;

namespace DropSim.Reporting.Studies;

/// <summary>A table of a study as a CSV file: UTF-8, commas, LF, point as decimal mark, all digits; an unknown value is empty.</summary>
internal static class StudyCsv
{
    /// <summary>Writes header and rows.</summary>
    /// <param name="table">The table, SI.</param>
    /// <param name="units">Units wanted; the column names say which.</param>
    /// <param name="stream">Where to.</param>
    internal static void Write(StudyTable table, UnitSystem units, Stream stream)
    {
        using var csv = CsvWriter.Create(stream, new CsvWriterOptions { NewLine = "\n" }, true);
        csv.WriteHeader([.. table.Columns.Select(c => Units.ColumnName(c.Name, c.Unit, units))]);
        var factors = table.Columns.Select(c => Units.Plain(c.Unit, units).Factor).ToArray();
        foreach (var row in table.Rows)
        {
            for (var column = 0; column < factors.Length; column++)
            {
                var cell = row[column];
                if (cell.Word is null && double.IsFinite(cell.Number))
                {
                    csv.WriteField(cell.Number * factors[column]);
                }
                else
                {
                    csv.WriteField(cell.Word ?? "");
                }
            }

            csv.EndRecord();
        }
    }
}
