using System.Globalization;
using DropSim.Model;
using DropSim.Scenarios.Building;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Toml;

namespace DropSim.Scenarios;

/// <summary>Reads the tables [[uncertain]]; the unit of low, mid and high is that of the key they are about.</summary>
internal sealed class UncertainTables(ValueReader reader, List<ScenarioProblem> problems)
{
    private const string S = KeyTable.UncertainSection;

    public List<UncertainEntry> Read(IEnumerable<(SourceTable Table, int Index)> tables)
    {
        List<UncertainEntry> entries = [];
        foreach ((SourceTable table, int index) in tables)
        {
            if (One(table, $"{S} {index.ToString(CultureInfo.InvariantCulture)}: ") is not { } entry)
            {
                continue;
            }

            if (entries.FirstOrDefault(e => e.Key == entry.Key) is { } first)
            {
                reader.Add(entry.Line, S + ".key", $"{entry.Key.Key} a second time (first in line {first.Line.ToString(CultureInfo.InvariantCulture)})", "each key once");
                continue;
            }

            entries.Add(entry);
        }

        return entries;
    }

    private UncertainEntry? One(SourceTable table, string prefix)
    {
        int before = problems.Count;
        GivenValues values = new();
        SourceTable plain = new(table.Line);
        foreach ((string name, SourceNode node) in table.Entries.Where(e => e.Key is not ("low" or "mid" or "high")))
        {
            plain.Add(name, node);
        }

        reader.ReadSection(plain, S, prefix, values);
        if (values.Find(S + ".key") is not { } named)
        {
            if (problems.Count == before)
            {
                reader.Add(table.Line, prefix + S + ".key", "nothing", "one of " + string.Join(", ", UncertainKeys.Paths));
            }

            return null;
        }

        if (UncertainKeys.All.FirstOrDefault(k => k.Key == named.Word) is not { } key)
        {
            reader.Add(named.Line, prefix + S + ".key", $"\"{named.Word}\"", "one of " + string.Join(", ", UncertainKeys.Paths), NearestName.Of(named.Word, UncertainKeys.Paths));
            return null;
        }

        string shape = values.Find(S + ".distribution")?.Word ?? "triangular";
        DistributionKind? kind = shape switch
        {
            "log-triangular" => DistributionKind.LogTriangular,
            "uniform" => DistributionKind.Uniform,
            "normal" => DistributionKind.Normal,
            "lognormal" => DistributionKind.LogNormal,
            "fixed" => null,
            _ => DistributionKind.Triangular,
        };
        double? low = Value("low", kind is not null);
        double? high = Value("high", kind is not null);
        double? mid = Value("mid", false);
        if (problems.Count > before)
        {
            return null;
        }

        Check(kind, shape, low, mid, high, table, prefix);
        string source = values.Find(S + ".source")?.Word ?? $"scenario file line {table.Line.ToString(CultureInfo.InvariantCulture)}";
        return problems.Count > before ? null : new UncertainEntry(key, table.Line, kind, low ?? double.NaN, mid, high ?? double.NaN, source);

        double? Value(string name, bool needed)
        {
            string shown = prefix + $"{S}.{name}";
            if (table.Find(name) is not { } node)
            {
                if (needed)
                {
                    reader.Add(table.Line, shown, "nothing", $"both low and high of {key.Key}, or distribution = \"fixed\"");
                }

                return null;
            }

            return reader.Quantity(key.Spec, node, shown);
        }
    }

    private void Check(DistributionKind? kind, string shape, double? low, double? mid, double? high, SourceTable table, string prefix)
    {
        int Line(string name) => table.Find(name)?.Line ?? table.Line;
        bool mayMid = kind is DistributionKind.Triangular or DistributionKind.LogTriangular;
        if (mid is not null && !mayMid)
        {
            reader.Add(Line("mid"), $"{prefix}{S}.mid", $"a most likely value of a {shape} distribution", "low and high alone, or distribution = \"triangular\"");
        }

        if (kind is null && (low is not null || high is not null))
        {
            reader.Add(Line("low"), $"{prefix}{S}.low", "ends of an input that is fixed", "neither low nor high, or another distribution");
        }

        if (kind is null)
        {
            return;
        }

        if (!(low < high) || low > mid || mid > high)
        {
            reader.Add(Line("low"), $"{prefix}{S}.low", "low, mid and high that do not follow each other", "low < high, and mid between them");
        }

        if (double.IsInfinity(high ?? 0))
        {
            reader.Add(Line("high"), $"{prefix}{S}.high", "a value without end", "a finite value");
        }

        if (kind is DistributionKind.LogTriangular or DistributionKind.LogNormal && !(low > 0))
        {
            reader.Add(Line("low"), $"{prefix}{S}.low", $"a {shape} distribution that begins at 0 or below", "a low above 0");
        }
    }
}
