using System.CommandLine;
using System.Globalization;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Scenarios.Building;
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
        var tip = Quantity("--tip", "piece.tip-diameter", "Diameter at the tip. Default: 0.95 of the butt for a log, 2 cm for a top.");
        var tipGirth = Quantity("--tip-girth", "piece.tip-girth", "Girth at the tip, in place of the diameter.");
        var middleGirth = Quantity("--mid-girth", "piece.middle-girth", "Girth at mid length; makes a log's volume more exact.");
        var length = Quantity("--length", "piece.length", "Length.");
        length.Required = true;
        var weighed = Quantity("--weighed", "piece.weighed", "Mass by a scale; overrides the estimate.");
        var top = new Option<string>("--top") { Description = "The piece is a top with a sparse, medium or dense crown." };
        top.Only("sparse", "medium", "dense");
        var bare = Quantity("--bare", "piece.bare-length", "Bare stem of a top from the butt to its live crown. Default: a third of the length.");
        var command = new Command("mass", DropSimApp.WithExamples(
            "Estimates a piece's mass, its range, and where it balances.",
            "dropsim mass --species \"white ash\" --butt \"40 cm\" --length \"1.25 m\"",
            "dropsim mass --density \"950 kg/m3\" --butt-girth \"126 cm\" --tip-girth \"120 cm\" --length \"4 ft 2 in\"",
            "dropsim mass --species \"Norway spruce (UK grown)\" --butt \"22 cm\" --length \"6 m\" --top medium --bare \"2 m\""))
        {
            species, density, butt, buttGirth, tip, tipGirth, middleGirth, length, weighed, top, bare,
        };
        OneOf(command, species, density);
        OneOf(command, butt, buttGirth);
        OneOf(command, tip, tipGirth);
        NeedsOne(command, butt, buttGirth);
        NeedsOne(command, species, density, weighed);
        Relations(command, top, bare, middleGirth, length);
        command.SetAction(parsed =>
        {
            double? Value(Option<string> option) => Parsed(parsed.GetValue(option), KindOf(option));

            var isTop = parsed.GetValue(top) is not null;
            if (!TryWood(terminal, parsed.GetValue(species), Value(density), isTop, out var wood))
            {
                return ExitCodes.Refused;
            }

            var buttSize = Value(butt) ?? (Value(buttGirth)!.Value / Math.PI);
            var tipSize = Value(tip) ?? (Value(tipGirth) / Math.PI) ?? PieceMass.Tip(isTop, buttSize);
            var size = Value(length)!.Value;
            var estimate = isTop
                ? PieceEstimate.Top(
                    buttSize, tipSize, size, wood.Density, Value(bare) ?? PieceMass.Bare(size), PieceMass.Crown(parsed.GetValue(top)), PieceMass.CrownHalfWidthOverLength * size)
                : PieceEstimate.Log(buttSize, tipSize, size, wood.Density, Value(middleGirth) / Math.PI);
            var fit = PieceChecks.MassFit.Fits;
            if (Value(weighed) is { } scale)
            {
                var stem = PieceEstimate.Log(buttSize, tipSize, size, 1, isTop ? null : Value(middleGirth) / Math.PI).Mass;
                var judged = PieceChecks.Judge(scale, wood.IsKnown ? estimate.Mass : null, stem, isTop, Catalogue.Load());
                fit = judged.Fit;
                if (fit == PieceChecks.MassFit.Impossible)
                {
                    terminal.Error.WriteLine($"mass: --weighed: found '{parsed.GetValue(weighed)}'; expected {PieceChecks.Fitting(judged, isTop)}.");
                    return ExitCodes.Refused;
                }
            }

            Print(terminal, estimate, Value(weighed), isTop, wood);
            if (fit == PieceChecks.MassFit.Odd)
            {
                terminal.Paragraph("Note: the weighed mass and the measures disagree: check both.", 0);
            }

            return ExitCodes.Done;

            QuantityKind KindOf(Option<string> option) =>
                option == density ? QuantityKind.Density : option == weighed ? QuantityKind.Mass : QuantityKind.Length;
        });
        return command;
    }

    /// <summary>What the wood weighs, and where that comes from.</summary>
    /// <param name="Density">Green density, kg/m3.</param>
    /// <param name="Source">Where it comes from, in words.</param>
    /// <param name="Table">Species whose table density was used; null where the density was given or is not needed.</param>
    /// <param name="IsKnown">False where nobody named the wood.</param>
    private readonly record struct Wood(double Density, string Source, SpeciesEntry? Table, bool IsKnown);

    private static double? Parsed(string? text, QuantityKind kind) =>
        text is not null && QuantityParser.TryParse(text, kind, out var value, out _) ? value : null;

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

    private static void NeedsOne(Command command, params Option<string>[] options) => command.Validators.Add(r =>
    {
        if (!options.Any(o => r.GetResult(o) is { Tokens.Count: > 0 }))
        {
            r.AddError($"mass: expected one of {string.Join(", ", options.Select(o => o.Name))}.");
        }
    });

    /// <summary>An option without effect is said so; it does not silently change nothing.</summary>
    private static void Relations(Command command, Option<string> top, Option<string> bare, Option<string> middleGirth, Option<string> length) =>
        command.Validators.Add(r =>
        {
            string? Text(Option<string> option) => r.GetResult(option) is { Tokens: [var token, ..] } ? token.Value : null;

            if (Text(bare) is not null && Text(top) is null)
            {
                r.AddError("mass: found --bare for a log; expected it with --top only.");
            }

            if (Text(middleGirth) is not null && Text(top) is not null)
            {
                r.AddError("mass: found --mid-girth for a top; expected it for a log only.");
            }

            if (Parsed(Text(bare), QuantityKind.Length) > Parsed(Text(length), QuantityKind.Length))
            {
                r.AddError("mass: found more bare stem than piece; expected --bare to be at most --length.");
            }
        });

    private static bool TryWood(Terminal terminal, string? species, double? given, bool top, out Wood wood)
    {
        wood = new(given ?? AnyDensity, given is null ? $"not needed where a scale was used: the balance of a {(top ? "top" : "log")} follows from its shape" : "given", null, given is not null);
        if (species is null)
        {
            return true;
        }

        var catalogue = Catalogue.Load();
        if (catalogue.FindSpecies(species) is not { } entry)
        {
            var near = NearestName.Of(species, [.. catalogue.Species.Select(s => s.Name)]);
            terminal.Error.WriteLine($"mass: found the species '{species}'; expected one of 'dropsim catalogue species'.{(near is null ? "" : $" Nearest known name: {near}.")}");
            return false;
        }

        if (entry.GreenDensity is not { } green)
        {
            terminal.Error.WriteLine($"mass: the green density of {entry.Name} is not known; expected --density.");
            return false;
        }

        wood = new(green, $"{entry.Name} ({entry.ScientificName}): {entry.Source}", entry, true);
        return true;
    }

    private static void Print(Terminal terminal, PieceEstimate estimate, double? weighed, bool top, Wood wood)
    {
        var piece = weighed is { } scale ? estimate.WithMass(scale) : estimate;
        var (low, high) = weighed is { } known ? PieceMass.Weighed(known) : PieceMass.Range(piece.Mass, top, wood.Table);
        static string Both(double kilograms) => string.Create(CultureInfo.InvariantCulture, $"{kilograms:0} kg ({kilograms / Reporting.Units.KilogramsPerPound:0} lb)");
        terminal.Output.WriteLine($"Mass, {(weighed is null ? "estimated" : "weighed")}: {Both(piece.Mass)}; range {Both(low)} to {Both(high)}");
        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"Balance point, estimated: {piece.CentreOfGravity:0.00} m ({piece.CentreOfGravity / Reporting.Units.MetresPerFoot:0.0} ft) from the butt"));
        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Moment of inertia about it, estimated: {piece.Inertia:0.0} kg m2"));
        terminal.Paragraph("Density: " + wood.Source + ".", 0);
        if (weighed is null)
        {
            if (PieceMass.DrierTable(wood.Table) is { } drier)
            {
                terminal.Paragraph("Note: " + drier, 0);
            }

            terminal.Paragraph("An estimate is no scale: weigh one piece and correct the rest.", 0);
        }

        terminal.Paragraph(Cautions.Reading[1], 0);
    }

    /// <summary>Stands in where a scale gave the mass: the balance does not depend on it, and the inertia is scaled with the mass, kg/m3.</summary>
    private const double AnyDensity = 1000;
}
