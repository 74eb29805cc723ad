using System.CommandLine;
using System.Globalization;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Cli;

/// <summary>dropsim mass: what a piece weighs and where it balances, from species and sizes.</summary>
internal static class MassCommand
{
    public static Command Create(Terminal terminal)
    {
        var species = new Option<string>("--species") { Description = "Species by common name; gives the green density." };
        var density = Quantity("--density", "piece.density", "Green density, in place of a species.");
        var butt = Quantity("--butt", "piece.butt-diameter", "Diameter at the butt.");
        var buttGirth = Quantity("--butt-girth", "piece.butt-girth", "Girth at the butt, in place of the diameter.");
        var tip = Quantity("--tip", "piece.tip-diameter", "Diameter at the tip. Default: as the butt for a log, a tenth of it for a top.");
        var tipGirth = Quantity("--tip-girth", "piece.tip-girth", "Girth at the tip, in place of the diameter.");
        var middleGirth = Quantity("--mid-girth", "piece.middle-girth", "Girth at mid length; makes a log's volume more exact.");
        var length = Quantity("--length", "piece.length", "Length.");
        length.Required = true;
        var weighed = Quantity("--weighed", "piece.weighed", "Mass by a scale; overrides the estimate.");
        var top = new Option<string>("--top") { Description = "The piece is a top with a sparse, medium or dense crown." };
        top.AcceptOnlyFromAmong("sparse", "medium", "dense");
        var bare = Quantity("--bare", "piece.bare-length", "Bare stem of a top from the butt to its live crown. Default: a third of the length.");
        var command = new Command("mass", DropSimApp.WithExamples(
            "Estimates a piece's mass, its range, and where it balances.",
            "dropsim mass --species \"white ash\" --butt \"40 cm\" --length \"1.25 m\"",
            "dropsim mass --density \"950 kg/m3\" --butt-girth \"126 cm\" --tip-girth \"120 cm\" --length \"4 ft 2 in\"",
            "dropsim mass --species \"Norway spruce\" --butt \"22 cm\" --length \"6 m\" --top medium --bare \"2 m\""))
        {
            species, density, butt, buttGirth, tip, tipGirth, middleGirth, length, weighed, top, bare,
        };
        OneOf(command, species, density);
        OneOf(command, butt, buttGirth);
        OneOf(command, tip, tipGirth);
        command.SetAction(parsed =>
        {
            double? Value(Option<string> option, QuantityKind kind) =>
                parsed.GetValue(option) is { } text && QuantityParser.TryParse(text, kind, out var value, out _) ? value : null;

            var buttDiameter = Value(butt, QuantityKind.Length) ?? (Value(buttGirth, QuantityKind.Length) / Math.PI);
            if (buttDiameter is not { } buttSize)
            {
                terminal.Error.WriteLine("mass: found no size at the butt; expected --butt or --butt-girth.");
                return ExitCodes.Usage;
            }

            if (Density(terminal, parsed.GetValue(species), Value(density, QuantityKind.Density)) is not { } wood)
            {
                return ExitCodes.Refused;
            }

            var isTop = parsed.GetValue(top) is not null;
            var tipSize = Value(tip, QuantityKind.Length) ?? (Value(tipGirth, QuantityKind.Length) / Math.PI) ?? (isTop ? buttSize / 10 : buttSize);
            var long_ = Value(length, QuantityKind.Length)!.Value;
            var bareLength = Math.Min(Value(bare, QuantityKind.Length) ?? (long_ / 3), long_);
            PieceEstimate estimate;
            try
            {
                estimate = isTop
                    ? PieceEstimate.Top(buttSize, tipSize, long_, wood.Density, bareLength, Crown(parsed.GetValue(top)!), CrownHalfWidth * long_)
                    : PieceEstimate.Log(buttSize, tipSize, long_, wood.Density, Value(middleGirth, QuantityKind.Length) / Math.PI);
                if (Value(weighed, QuantityKind.Mass) is { } scale)
                {
                    estimate = estimate.WithMass(scale);
                }
            }
            catch (ArgumentOutOfRangeException e)
            {
                terminal.Error.WriteLine($"mass: {e.Message}");
                return ExitCodes.Refused;
            }

            var isWeighed = Value(weighed, QuantityKind.Mass) is not null;
            Print(terminal, estimate, isWeighed, isTop, wood.Source);
            return ExitCodes.Done;
        });
        return command;
    }

    /// <summary>Half width of a top's crown over its length: common practice, no source.</summary>
    private const double CrownHalfWidth = 0.15;

    /// <summary>An option with the quantity and the limits of a key of the scenario format.</summary>
    private static Option<string> Quantity(string name, string path, string description)
    {
        var key = KeyTable.ByPath[path];
        var option = new Option<string>(name) { Description = description };
        option.Validators.Add(r =>
        {
            if (r.Tokens.Count == 0)
            {
                return;
            }

            var found = r.Tokens[0].Value;
            if (!QuantityParser.TryParse(found, key.Quantity, out var value, out var problem))
            {
                r.AddError($"{name}: found '{found}'; expected {problem}.");
            }
            else if (!(value >= key.Least && value <= key.Most))
            {
                r.AddError($"{name}: found '{found}'; expected {ValueReader.Limits(key)}.");
            }
        });
        return option;
    }

    /// <summary>Two options that say the same thing: neither silently wins.</summary>
    private static void OneOf(Command command, Option<string> first, Option<string> second) => command.Validators.Add(r =>
    {
        if (r.GetResult(first) is { Tokens.Count: > 0 } && r.GetResult(second) is { Tokens.Count: > 0 })
        {
            r.AddError($"mass: found both {first.Name} and {second.Name}, which say the same thing; expected one of them.");
        }
    });

    private static double Crown(string name) => name switch
    {
        "sparse" => PieceEstimate.SparseCrown,
        "dense" => PieceEstimate.DenseCrown,
        _ => PieceEstimate.MediumCrown,
    };

    private static (double Density, string Source)? Density(Terminal terminal, string? species, double? given)
    {
        if (given is { } density)
        {
            return (density, "given");
        }

        if (species is null)
        {
            terminal.Error.WriteLine("mass: found neither --species nor --density; expected one of them.");
            return null;
        }

        var catalogue = Catalogue.Load();
        if (catalogue.FindSpecies(species) is not { } entry)
        {
            var near = NearestName.Of(species, [.. catalogue.Species.Select(s => s.Name)]);
            terminal.Error.WriteLine($"mass: found the species '{species}'; expected one of 'dropsim catalogue species'.{(near is null ? "" : $" Nearest known name: {near}.")}");
            return null;
        }

        if (entry.GreenDensity is not { } green)
        {
            terminal.Error.WriteLine($"mass: the green density of {entry.Name} is not known; expected --density.");
            return null;
        }

        return (green, $"{entry.Name} ({entry.ScientificName}): {entry.Source}");
    }

    private static void Print(Terminal terminal, PieceEstimate estimate, bool weighed, bool top, string source)
    {
        var range = weighed ? PieceEstimate.WeighedMassRange : top ? PieceEstimate.TopMassRange : PieceEstimate.LogMassRange;
        static string Both(double kilograms) => string.Create(CultureInfo.InvariantCulture, $"{kilograms:0} kg ({kilograms / KilogramsPerPound:0} lb)");
        var word = weighed ? "weighed" : "estimated";
        terminal.Output.WriteLine($"Mass, {word}: {Both(estimate.Mass)}; range {Both(estimate.Mass * (1 - range))} to {Both(estimate.Mass * (1 + range))}");
        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"Balance point, estimated: {estimate.CentreOfGravity:0.00} m ({estimate.CentreOfGravity / MetresPerFoot:0.0} ft) from the butt"));
        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Moment of inertia about it, estimated: {estimate.Inertia:0.0} kg m2"));
        terminal.Paragraph("Density: " + source + ".", 0);
        terminal.Paragraph("An estimate is no scale: weigh one piece and correct the rest. " + Cautions.Reading[1], 0);
    }

    private const double KilogramsPerPound = 0.45359237;
    private const double MetresPerFoot = 0.3048;
}
