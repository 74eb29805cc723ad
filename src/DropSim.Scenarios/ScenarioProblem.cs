namespace DropSim.Scenarios;

/// <summary>One thing wrong in a scenario file.</summary>
/// <param name="File">File name as given.</param>
/// <param name="Line">Line, from 1; 0 where the file as a whole is meant.</param>
/// <param name="Path">Key path ("rope.slack", "setup 2.rope.slack"); empty for the whole file.</param>
/// <param name="Found">What stands there.</param>
/// <param name="Expected">What was expected, with advice.</param>
/// <param name="Nearest">Nearest known name; null where none is near.</param>
public sealed record ScenarioProblem(string File, int Line, string Path, string Found, string Expected, string? Nearest = null)
{
    private const int LongestPath = 120;

    /// <summary>One line for a terminal; what would act on a terminal is spelt out.</summary>
    public override string ToString()
    {
        string place = Line > 0 ? $"{File}:{Line.ToString(System.Globalization.CultureInfo.InvariantCulture)}" : File;
        string path = Path.Length == 0 ? "" : Path.Length > LongestPath ? $" {Path[..LongestPath]}...:" : $" {Path}:";
        string near = Nearest is null ? "" : $" Nearest known name: {Nearest}.";
        return Printable.Of($"{place}:{path} found {Found}; expected {Expected.TrimEnd('.')}.{near}");
    }
}
