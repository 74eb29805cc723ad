using DropSim.Reporting;

namespace DropSim.Session;

/// <summary>Answers that do not depend on a scenario.</summary>
internal static class GeneralAnswers
{
    private static readonly (string Name, string Unit)[] Quantities =
        [("force", "N"), ("energy", "J"), ("length", "m"), ("speed", "m/s"), ("acceleration", "m/s2"), ("moment", "N m"), ("time", "s")];

    /// <summary>What the catalogue knows.</summary>
    public static CatalogueAnswer Catalogue()
    {
        var catalogue = Scenarios.Catalogue.Load();
        return new(
            [.. catalogue.Species.Select(s => new SpeciesDto(s.Name, s.ScientificName, s.Region, s.GreenDensity, s.GreenModulus, s.BendingStrength, s.Source))],
            [.. catalogue.Ropes.Select(r => new RopeDto(r.Construction, r.Fibre, r.Diameter, r.BreakingStrength, r.Stiffness, r.Source))],
            [.. catalogue.Knots.Select(k => new KnotDto(k.Name, k.Retained, k.Source))]);
    }

    /// <summary>Cautions and units.</summary>
    public static WordsAnswer Words(string version)
    {
        static UnitDto Unit((string Unit, double Factor) of) => new(of.Unit, of.Factor, 2);
        Dictionary<string, InUnits<UnitDto>> axes = Quantities.ToDictionary(
            q => q.Name, q => new InUnits<UnitDto>(Unit(Units.Axis(q.Unit, UnitSystem.Si)), Unit(Units.Axis(q.Unit, UnitSystem.Us))));
        axes["smallLength"] = new(Unit(Units.SmallLength(UnitSystem.Si)), Unit(Units.SmallLength(UnitSystem.Us)));
        return new(version, Cautions.Reading, Cautions.NotModelled, Cautions.NotModelledSentence, axes);
    }
}
