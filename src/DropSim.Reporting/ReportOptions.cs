namespace DropSim.Reporting;

/// <summary>The units people read. Inside the engine and in summary.json everything is SI.</summary>
public enum UnitSystem
{
    /// <summary>kN, N, m, mm, s.</summary>
    Si,

    /// <summary>lbf, ft, in, s.</summary>
    Us,
}

/// <summary>How a scenario's results are written.</summary>
public sealed record ReportOptions
{
    /// <summary>Units in charts, console text and CSV files.</summary>
    public UnitSystem Units { get; init; } = UnitSystem.Si;

    /// <summary>Time between rows of the CSV files, s; above 0.</summary>
    public double CsvInterval { get; init; } = 0.001;

    /// <summary>Version of the program, as printed on every chart.</summary>
    public string ProgramVersion { get; init; } = "unknown";

    /// <summary>Threads used for writing, 1 or more.</summary>
    public int Threads { get; init; } = Environment.ProcessorCount;

    /// <summary>Refuses options that cannot be used.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The CSV interval is not above 0, or there is no thread.</exception>
    internal void Check()
    {
        if (!(CsvInterval > 0) || double.IsInfinity(CsvInterval))
        {
            throw new ArgumentOutOfRangeException(nameof(CsvInterval), CsvInterval, "The CSV interval must be above 0 s.");
        }

        if (Threads < 1)
        {
            throw new ArgumentOutOfRangeException(nameof(Threads), Threads, "At least one thread is needed.");
        }
    }
}
