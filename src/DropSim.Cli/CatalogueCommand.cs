using System.CommandLine;
using System.Globalization;
using DropSim.Scenarios;

namespace DropSim.Cli;

/// <summary>dropsim catalogue: what the program knows about wood, ropes and gear, with sources.</summary>
internal static class CatalogueCommand
{
    private static readonly string[] Parts = ["species", "ropes", "knots", "bends", "slings", "friction"];

    public static Command Create(Terminal terminal)
    {
        var part = new Argument<string[]>("PART") { Description = "species, ropes, knots, bends, slings, friction; all without one.", Arity = ArgumentArity.ZeroOrMore };
        part.Only(Parts);
        var find = new Option<string>("--find") { Description = "Show rows that contain this text only." };
        var command = new Command("catalogue", DropSimApp.WithExamples(
            "Shows the catalogue: every number with its source, or marked as from memory or common practice.",
            "dropsim catalogue species --find ash",
            "dropsim catalogue ropes knots"))
        {
            part, find,
        };
        command.SetAction(parsed =>
        {
            var wanted = parsed.GetValue(part) is { Length: > 0 } named ? named : Parts;
            var text = parsed.GetValue(find) ?? "";
            var catalogue = Catalogue.Load();
            var found = false;
            foreach (var name in wanted.Distinct())
            {
                var (heading, rows) = Of(catalogue, name);
                var shown = rows.Where(r => r.Any(c => c.Contains(text, StringComparison.OrdinalIgnoreCase))).ToArray();
                if (shown.Length == 0)
                {
                    continue;
                }

                found = true;
                terminal.Output.WriteLine(name);
                terminal.Table(heading, shown);
                terminal.Output.WriteLine();
            }

            if (!found)
            {
                terminal.Error.WriteLine($"catalogue: nothing contains '{text}'.");
                return ExitCodes.Refused;
            }

            terminal.Output.WriteLine("Strengths are of new, dry gear in general constructions: your own gear's marking comes first.");
            return ExitCodes.Done;
        });
        return command;
    }

    private static (string[] Heading, IEnumerable<string[]> Rows) Of(Catalogue catalogue, string part) => part switch
    {
        "species" => (["species", "scientific name", "region", "green density kg/m3", "green modulus GPa", "bending strength MPa", "source"],
            catalogue.Species.Select(s => new[] { s.Name, s.ScientificName, s.Region, N(s.GreenDensity), N(s.GreenModulus / 1e9), N(s.BendingStrength / 1e6), s.Source })),
        "ropes" => (["construction", "fibre", "diameter mm", "breaking strength kN", "EA kN", "mass kg/m", "source"],
            catalogue.Ropes.Select(r => new[] { r.Construction, r.Fibre, N(1000 * r.Diameter), N(r.BreakingStrength / 1000), N(r.Stiffness / 1000), N(r.MassPerLength), r.Source })),
        "knots" => (["knot or termination", "strength kept", "low", "high", "take-up m", "source"],
            catalogue.Knots.Select(k => new[] { k.Name, N(k.Retained), N(k.Low), N(k.High), N(k.TakeUp), k.Source })),
        "bends" => (["D/d", "strength kept", "source"], catalogue.Bends.Select(b => new[] { N(b.Ratio), N(b.Retained), b.Source })),
        "slings" => (["configuration", "factor on the single leg", "source"], catalogue.Slings.Select(s => new[] { s.Configuration, N(s.Factor), s.Source })),
        _ => (["part", "name", "quantity", "low", "value", "high", "source"],
            catalogue.Frictions.Select(f => new[] { f.Part, f.Name, f.Quantity, N(f.Low), N(f.Value), N(f.High), f.Source })),
    };

    private static string N(double? value) => value is { } v && double.IsFinite(v) ? v.ToString("G4", CultureInfo.InvariantCulture) : "unknown";
}
