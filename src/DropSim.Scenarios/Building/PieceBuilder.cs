using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Building;

/// <summary>The piece from what a tape and a scale measure.</summary>
internal static class PieceBuilder
{
    /// <summary>Density where neither species nor density is known, kg/m3, and its range. Common practice, no source.</summary>
    private const double UnknownDensity = 900, UnknownDensityLow = 650, UnknownDensityHigh = 1100;

    /// <summary>Mass with its range, for the ranges of the case.</summary>
    internal sealed record Result(PieceInput Input, Known Mass, SpeciesEntry? Species);

    public static Result? Build(CaseValues values, Catalogue catalogue)
    {
        bool top = values.Word("piece.kind") == "top";
        double length = values.Take("piece.length", double.NaN, null, null, "").Value;
        double? butt = Diameter(values, "piece.butt");
        if (butt is not { } buttDiameter || !double.IsFinite(length))
        {
            return null;
        }

        double? middle = Diameter(values, "piece.middle");
        double tip = Diameter(values, "piece.tip")
            ?? (top
                ? values.Take("piece.tip-diameter", PieceMass.Tip(top, buttDiameter), null, null, "assumed thin end of a top").Value
                : values.Take("piece.tip-diameter", PieceMass.Tip(top, buttDiameter), null, null, "0.95 of the butt, assumed").Value);
        SpeciesEntry? species = Species(values, catalogue, "piece.species");
        Known density = Density(values, species);

        double bare = top ? values.Take("piece.bare-length", PieceMass.Bare(length), null, null, "a third of the length, assumed").Value : length;
        double halfWidth = top ? values.Take("piece.crown-half-width", PieceMass.CrownHalfWidthOverLength * length, null, null, "0.15 of the length, assumed").Value : 0;
        if (bare > length)
        {
            values.Problem("piece.bare-length", "more bare stem than piece", $"at most the length, {CaseValues.Text(length, "m")}");
            return null;
        }

        PieceEstimate shape = top
            ? PieceEstimate.Top(buttDiameter, tip, length, density.Value, bare, PieceMass.Crown(values.Word("piece.crown")), halfWidth)
            : PieceEstimate.Log(buttDiameter, tip, length, density.Value, middle);
        PieceChecks.Shape(values, buttDiameter, middle, tip);
        Known mass = Mass(values, shape, density, species, top);
        if (mass.Given)
        {
            double stem = PieceEstimate.Log(buttDiameter, tip, length, density.Value, top ? null : middle).Mass / density.Value;
            PieceChecks.Mass(
                values, values.Has(PieceChecks.Weighed) ? PieceChecks.Weighed : "piece.mass", mass.Value, shape.Mass, stem, top,
                density.Given || species?.GreenDensity is not null, catalogue);
        }

        values.SetSize(mass.Value, top);

        PieceEstimate weighted = shape.WithMass(mass.Value);
        double balance = values.Take("piece.balance-point", weighted.CentreOfGravity, null, null, top ? "stem cone and crown as assumed" : "truncated cone").Value;
        double inertia = values.Take("piece.inertia", weighted.Inertia, null, null, top ? "stem cone and crown as assumed" : "truncated cone").Value;
        if (balance >= length)
        {
            values.Problem("piece.balance-point", "a balance point beyond the piece", $"less than the length, {CaseValues.Text(length, "m")}");
        }

        PieceChecks.Balance(values, weighted, length, Math.Max(Math.Max(buttDiameter, tip) / 2, halfWidth), balance, inertia, top);
        return new Result(
            new PieceInput
            {
                Kind = top ? PieceKind.Top : PieceKind.Log,
                Mass = mass.Value,
                Length = length,
                ButtDiameter = buttDiameter,
                TipDiameter = tip,
                CentreOfGravity = balance,
                SidewaysOffset = values.Take("piece.sideways-offset").Value,
                Inertia = inertia,
                HitchHeight = Hitch(values, length),
                BareLength = bare,
                CrownHalfWidth = halfWidth,
                DragArea = values.Take("piece.drag-area").Value,
            },
            mass,
            species);
    }

    /// <summary>A species named in the file; a mistyped one is a problem with the nearest known name.</summary>
    public static SpeciesEntry? Species(CaseValues values, Catalogue catalogue, string path)
    {
        if (values.Given(path) is not { } given)
        {
            return null;
        }

        SpeciesEntry? species = catalogue.FindSpecies(given.Word);
        if (species is null)
        {
            values.Problem(path, $"\"{given.Word}\"", "a species of the catalogue (dropsim catalogue), or a density instead",
                NearestName.Of(given.Word, [.. catalogue.Species.Select(s => s.Name)]));
            return null;
        }

        values.Notes.Add(new InputNote(path, species.Name, "", true, CaseValues.Line(given)));
        return species;
    }

    private static double Hitch(CaseValues values, double length)
    {
        Known hitch = values.Has("piece.hitch-height")
            ? values.Take("piece.hitch-height")
            : Capped(values, length);
        if (hitch.Value > length)
        {
            values.Problem("piece.hitch-height", "a hitch above the piece", $"at most the length, {CaseValues.Text(length, "m")}");
        }

        return hitch.Value;
    }

    private static Known Capped(CaseValues values, double length)
    {
        Known bySize = values.Take("piece.hitch-height");
        if (bySize.Value <= length / 2)
        {
            return bySize;
        }

        values.Notes.RemoveAt(values.Notes.Count - 1);
        return values.Take("piece.hitch-height", length / 2, null, null, "half the length of a short piece, assumed");
    }

    private static double? Diameter(CaseValues values, string part)
    {
        if (values.Optional($"{part}-diameter") is { } diameter)
        {
            return diameter;
        }

        return values.Optional($"{part}-girth") is { } girth ? girth / Math.PI : null;
    }

    /// <summary>Green density of a piece, kg/m3.</summary>
    public static Known Density(CaseValues values, SpeciesEntry? species)
    {
        if (species?.GreenDensity is { } known)
        {
            return values.Take("piece.density", known, null, null, $"{species.Name}: {species.Source}");
        }

        return values.Take("piece.density", UnknownDensity, UnknownDensityLow, UnknownDensityHigh, "species unknown; " + KeyTable.Practice);
    }

    private static Known Mass(CaseValues values, PieceEstimate shape, Known density, SpeciesEntry? species, bool top)
    {
        if (values.Given("piece.weighed") is { } weighed)
        {
            (double Low, double High) scale = PieceMass.Weighed(weighed.Number);
            Known known = new(weighed.Number, weighed.Low ?? scale.Low, weighed.High ?? scale.High, true, $"weighed, {CaseValues.Line(weighed)}");
            values.Note("piece.weighed", known, QuantityKind.Mass);
            return known;
        }

        if (values.Given("piece.mass") is { } mass)
        {
            (double Low, double High) stated = PieceMass.Range(mass.Number, top, null);
            Known known = new(mass.Number, mass.Low ?? stated.Low, mass.High ?? stated.High, true, CaseValues.Line(mass));
            values.Note("piece.mass", known, QuantityKind.Mass);
            return known;
        }

        SpeciesEntry? table = density.Given ? null : species;
        (double low, double high) = PieceMass.Range(shape.Mass, top, table);
        if (density.Low is { } lowDensity && density.High is { } highDensity)
        {
            low = Math.Min(low, shape.Mass * lowDensity / density.Value);
            high = Math.Max(high, shape.Mass * highDensity / density.Value);
        }

        if (PieceMass.DrierTable(table) is { } drier)
        {
            values.Remarks.Add(new Remark($"{drier}"));
        }

        return values.Take("piece.mass", shape.Mass, low, high, (top ? "stem cone and crown" : "volume") + " times green density; " + KeyTable.Practice);
    }
}
