using System.Globalization;
using System.Reflection;
using CsvHelper;

namespace DropSim.Scenarios;

/// <summary>A species of wood, green.</summary>
/// <param name="Name">Common name.</param>
/// <param name="ScientificName">Scientific name.</param>
/// <param name="Region">NA or EU.</param>
/// <param name="GreenDensity">Green density, kg/m3; null where unknown.</param>
/// <param name="GreenModulus">Green modulus of elasticity, Pa; null where unknown.</param>
/// <param name="BendingStrength">Green bending strength, Pa; null where unknown.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record SpeciesEntry(string Name, string ScientificName, string Region, double? GreenDensity, double? GreenModulus, double? BendingStrength, string Source)
{
    /// <summary>Moisture content for which the green density holds, part of the dry mass; null for that of a living tree.</summary>
    public double? DensityMoisture { get; init; }
}

/// <summary>A generic rope construction in one diameter.</summary>
/// <param name="Construction">Construction, no brand.</param>
/// <param name="Fibre">Fibre.</param>
/// <param name="Diameter">Diameter, m.</param>
/// <param name="BreakingStrength">Breaking strength new and dry, N.</param>
/// <param name="MassPerLength">Mass per length, kg/m.</param>
/// <param name="Strains">Strains of worked rope at 10, 20, 30 and 50 % of breaking strength.</param>
/// <param name="Softening">Temperature at which the fibre softens or its service ends, degrees Celsius.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record RopeEntry(string Construction, string Fibre, double Diameter, double BreakingStrength, double MassPerLength, IReadOnlyList<double> Strains, double Softening, string Source)
{
    /// <summary>Whether its numbers stand in the catalogue or were made from neighbours.</summary>
    public TableOrigin Origin { get; init; }

    /// <summary>Secant stiffness EA at 10 % of breaking strength, N.</summary>
    public double Stiffness => 0.1 * BreakingStrength / Strains[0];
}

/// <summary>Where in a table a number comes from.</summary>
public enum TableOrigin
{
    /// <summary>It stands there.</summary>
    Tabulated,

    /// <summary>Between two rows.</summary>
    Interpolated,

    /// <summary>Beyond the last row.</summary>
    Extrapolated,
}

/// <summary>A knot or termination.</summary>
/// <param name="Name">Name.</param>
/// <param name="Low">Low end of the retained strength, 0 to 1.</param>
/// <param name="Retained">Retained strength, 0 to 1.</param>
/// <param name="High">High end.</param>
/// <param name="TakeUp">Take-up that differs from the default, m; null for the default.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record KnotEntry(string Name, double Low, double Retained, double High, double? TakeUp, string Source);

/// <summary>Strength left in a bend.</summary>
/// <param name="Ratio">Diameter of the bend over that of the rope.</param>
/// <param name="Retained">Retained strength, 0 to 1.</param>
/// <param name="Source">Where the number comes from.</param>
public sealed record BendEntry(double Ratio, double Retained, string Source);

/// <summary>How a sling's configuration changes its strength.</summary>
/// <param name="Configuration">Configuration.</param>
/// <param name="Factor">Factor on the straight strength.</param>
/// <param name="Source">Where the number comes from.</param>
public sealed record SlingEntry(string Configuration, double Factor, string Source);

/// <summary>Friction or efficiency of a rigging point or device.</summary>
/// <param name="Part">Where it belongs.</param>
/// <param name="Name">What it is.</param>
/// <param name="Quantity">"friction" or "efficiency".</param>
/// <param name="Low">Low end.</param>
/// <param name="Value">Central value.</param>
/// <param name="High">High end.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record FrictionEntry(string Part, string Name, string Quantity, double Low, double Value, double High, string Source);

/// <summary>Species, ropes, knots, bends, slings, rings and devices with the source of every number. No brands.</summary>
public sealed class Catalogue
{
    private static readonly Lazy<Catalogue> Shared = new(() => new Catalogue());

    private Catalogue()
    {
        Species = Rows("species.csv", r => new SpeciesEntry(r.Text("common_name"), r.Text("scientific_name"), r.Text("region"),
            r.Optional("green_density_kg_m3"), r.Optional("green_moe_gpa") * 1e9, r.Optional("green_mor_mpa") * 1e6, r.Text("source"))
        {
            DensityMoisture = r.Optional("green_density_mc_pct") / 100,
        });
        GreenDensities = (Species.Min(s => s.GreenDensity)!.Value, Species.Max(s => s.GreenDensity)!.Value);
        Ropes = Rows("ropes.csv", r => new RopeEntry(r.Text("construction"), r.Text("fibre"), r.Number("diameter_mm") / 1000,
            r.Number("breaking_strength_kN") * 1000, r.Number("mass_kg_m"),
            [r.Number("strain_at_10_percent"), r.Number("strain_at_20_percent"), r.Number("strain_at_30_percent"), r.Number("strain_at_50_percent")],
            r.Number("softening_C"), r.Text("source")));
        Knots = Rows("knots.csv", r => new KnotEntry(r.Text("name"), r.Number("retained_low"), r.Number("retained"), r.Number("retained_high"), r.Optional("take_up_m"), r.Text("source")));
        Bends = Rows("bends.csv", r => new BendEntry(r.Number("bend_over_rope_diameter"), r.Number("retained"), r.Text("source")));
        Slings = Rows("slings.csv", r => new SlingEntry(r.Text("configuration"), r.Number("factor"), r.Text("source")));
        Frictions = Rows("friction.csv", r => new FrictionEntry(r.Text("part"), r.Text("name"), r.Text("quantity"), r.Number("low"), r.Number("value"), r.Number("high"), r.Text("source")));
    }

    /// <summary>Species of wood.</summary>
    public IReadOnlyList<SpeciesEntry> Species { get; }

    /// <summary>
    /// Density of the lightest and of the heaviest green wood among the species, kg/m3. Both are computed from specific gravity and moisture
    /// content that were read (western redcedar 433, live oak 1218), bark not counted.
    /// </summary>
    public (double Lightest, double Heaviest) GreenDensities { get; }

    /// <summary>Rope constructions by diameter.</summary>
    public IReadOnlyList<RopeEntry> Ropes { get; }

    /// <summary>Knots and terminations.</summary>
    public IReadOnlyList<KnotEntry> Knots { get; }

    /// <summary>Strength left in bends, by growing ratio.</summary>
    public IReadOnlyList<BendEntry> Bends { get; }

    /// <summary>Sling configurations.</summary>
    public IReadOnlyList<SlingEntry> Slings { get; }

    /// <summary>Friction and efficiency.</summary>
    public IReadOnlyList<FrictionEntry> Frictions { get; }

    /// <summary>The catalogue that ships with the program.</summary>
    public static Catalogue Load() => Shared.Value;

    /// <summary>A species by its common name, letter case aside; null where unknown.</summary>
    /// <param name="name">Common name.</param>
    public SpeciesEntry? FindSpecies(string name) => Species.FirstOrDefault(s => Same(s.Name, name));

    /// <summary>A knot by its name; null where unknown.</summary>
    /// <param name="name">Name.</param>
    public KnotEntry? FindKnot(string name) => Knots.FirstOrDefault(k => Same(k.Name, name));

    /// <summary>
    /// A rope construction at a diameter. Between tabulated diameters strength and mass over diameter squared are
    /// interpolated; outside, the nearest entry's are kept and the source says so. Null where the construction is unknown.
    /// </summary>
    /// <param name="construction">Construction, letter case aside.</param>
    /// <param name="diameter">Diameter, m.</param>
    public RopeEntry? FindRope(string construction, double diameter)
    {
        List<RopeEntry> known = [.. Ropes.Where(r => Same(r.Construction, construction)).OrderBy(r => r.Diameter)];
        if (known.Count == 0)
        {
            return null;
        }

        // 1e-6 m: the same diameter written in inches and in millimetres.
        const double SameDiameter = 1e-6;
        if (known.Find(r => Math.Abs(r.Diameter - diameter) < SameDiameter) is { } exact)
        {
            return exact;
        }

        RopeEntry below = known.LastOrDefault(r => r.Diameter < diameter) ?? known[0];
        RopeEntry above = known.Find(r => r.Diameter > diameter) ?? known[^1];
        double part = above == below ? 0 : (diameter - below.Diameter) / (above.Diameter - below.Diameter);
        string how = above == below
            ? string.Create(CultureInfo.InvariantCulture, $"extrapolated from {1000 * below.Diameter:0.#} mm with diameter squared")
            : string.Create(CultureInfo.InvariantCulture, $"interpolated between {1000 * below.Diameter:0.#} and {1000 * above.Diameter:0.#} mm");
        return below with
        {
            Diameter = diameter,
            BreakingStrength = PerArea(r => r.BreakingStrength),
            MassPerLength = PerArea(r => r.MassPerLength),
            Source = $"{how}; {below.Source}",
            Origin = above == below ? TableOrigin.Extrapolated : TableOrigin.Interpolated,
        };

        double PerArea(Func<RopeEntry, double> of)
        {
            double low = of(below) / (below.Diameter * below.Diameter);
            double high = of(above) / (above.Diameter * above.Diameter);
            return (low + (part * (high - low))) * diameter * diameter;
        }
    }

    /// <summary>Friction or efficiency of a part.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="quantity">"friction" or "efficiency".</param>
    public FrictionEntry Friction(string name, string quantity) => Frictions.First(f => f.Name == name && f.Quantity == quantity);

    /// <summary>Strength left in a bend, interpolated; the ends of the table are kept outside it.</summary>
    /// <param name="ratio">Diameter of the bend over that of the rope.</param>
    public double BendEfficiency(double ratio)
    {
        if (ratio <= Bends[0].Ratio)
        {
            // Below one rope diameter nothing is known: in proportion, so that it cannot flatter.
            return Bends[0].Retained * Math.Max(ratio, 0.1) / Bends[0].Ratio;
        }

        for (int i = 1; i < Bends.Count; i++)
        {
            if (ratio <= Bends[i].Ratio)
            {
                double part = (ratio - Bends[i - 1].Ratio) / (Bends[i].Ratio - Bends[i - 1].Ratio);
                return Bends[i - 1].Retained + (part * (Bends[i].Retained - Bends[i - 1].Retained));
            }
        }

        return Bends[^1].Retained;
    }

    private static bool Same(string a, string b) => a.Equals(b.Trim(), StringComparison.OrdinalIgnoreCase);

    private static List<T> Rows<T>(string file, Func<Row, T> read)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"DropSim.Scenarios.Catalogue.Data.{file}")
            ?? throw new InvalidOperationException($"The catalogue file {file} is missing from the program.");
        using StreamReader text = new(stream);
        using CsvReader csv = CsvReader.Create(text, new CsvReaderOptions(), true);
        List<T> rows = [];
        while (csv.Read())
        {
            rows.Add(read(new Row(csv)));
        }

        return rows;
    }

    private readonly struct Row(CsvReader csv)
    {
        public string Text(string column) => csv.GetString(column);

        public double Number(string column) => double.Parse(csv.GetString(column), NumberStyles.Float, CultureInfo.InvariantCulture);

        public double? Optional(string column) => csv.GetString(column) is { Length: > 0 } text
            ? double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture)
            : null;
    }
}
