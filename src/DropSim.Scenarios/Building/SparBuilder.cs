using DropSim.Integration;
using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>The standing stem: measured diameters or girths, species, root, condition, climber.</summary>
internal static class SparBuilder
{
    /// <summary>Modulus and density where the species is unknown. Common practice, no source.</summary>
    private const double UnknownModulus = 9e9, UnknownDensity = 900;

    /// <summary>Lowest measure must stand within this of the ground, m. Choice of this model.</summary>
    private const double LowestMeasure = 2;

    private const double SameHeight = 1e-6;

    /// <summary>Where foresters measure a stem, m.</summary>
    private const double BreastHeight = 1.3;

    /// <summary>
    /// Stiffness of the root over the cube of the stem's diameter, N m/rad per m3: low, middle, high. From the moment that uproots a stem of its mass
    /// (Nicoll et al. 2006 and others, by tables of a public package) and its 2.5 times that at 0.25 degrees (Detter et al. 2023): docs/theory/spar.md.
    /// </summary>
    private const double LowRoot = 70e6, MiddleRoot = 200e6, HighRoot = 600e6;

    /// <summary>The same on soft or wet ground, with cut or decayed roots. No source: the low end for a middle, ten times softer still for an end.</summary>
    private const double LowSoftRoot = 7e6, MiddleSoftRoot = 70e6, HighSoftRoot = 200e6;

    internal sealed record Result(SparInput Input, Known Root, Known Damping);

    public static Result? Build(CaseValues values, Catalogue catalogue, PieceInput piece, SpeciesEntry? pieceSpecies)
    {
        double height = values.Take("spar.height", double.NaN, null, null, "").Value;
        IReadOnlyList<DiameterAtHeight>? profile = double.IsFinite(height) ? Profile(values, height, piece.ButtDiameter) : null;
        if (profile is null)
        {
            return null;
        }

        SpeciesEntry? species = PieceBuilder.Species(values, catalogue, "spar.species") ?? pieceSpecies;
        string source = species is null ? "species unknown; " + KeyTable.Practice : $"{species.Name}: {species.Source}";
        string unknown = species is null ? source : $"not known for {species.Name}; {KeyTable.Practice}";
        Known root = Root(values, profile, height);
        double climberMass = values.Take("spar.climber-mass").Value;
        double climberBelow = values.Has("spar.climber-below-cut") || height > 1.5
            ? values.Take("spar.climber-below-cut").Value
            : values.Take("spar.climber-below-cut", height / 2, null, null, "a low spar, assumed").Value;
        if (climberBelow >= height)
        {
            values.Problem("spar.climber-below-cut", "feet below the ground", $"less than the height of the cut, {CaseValues.Text(height, "m")}");
        }

        StemCondition condition = Enum.Parse<StemCondition>(values.Word("spar.condition"), true);
        if (condition != StemCondition.Sound)
        {
            values.Remarks.Add(condition == StemCondition.Unknown
                ? new Remark($"Nobody has stated the condition of the stem: the strength margin is withheld.")
                : new Remark($"The stem is {condition.ToString().ToLowerInvariant()}: the strength margin is withheld, and the stem may fail where no number here says so."));
        }

        Known damping = Damping(values);
        return new Result(
            new SparInput
            {
                Height = height,
                Diameters = profile,
                Density = values.Take("spar.density", species?.GreenDensity ?? UnknownDensity, null, null, species?.GreenDensity is null ? unknown : source).Value,
                Modulus = values.Take("spar.modulus", species?.GreenModulus ?? UnknownModulus, null, null, species?.GreenModulus is null ? unknown : source).Value,
                BendingStrength = values.OptionalOr("spar.bending-strength", species?.BendingStrength, source),
                RootStiffness = root.Value,
                DampingRatio = damping.Value,
                MeasuredSwayFrequency = SwayFrequency(values),
                Condition = condition,
                ClimberMass = climberMass,
                ClimberBelowCut = climberBelow,
                Rigid = values.Flag("spar.rigid"),
            },
            root,
            damping);
    }

    /// <summary>Stiffness of the root: as given, else by the stem's size.</summary>
    private static Known Root(CaseValues values, IReadOnlyList<DiameterAtHeight> profile, double height)
    {
        bool ordinary = values.Word("spar.root") == "ordinary";
        double d = DiameterAt(profile, Math.Min(BreastHeight, height));
        double cube = d * d * d;
        (double low, double middle, double high) = ordinary ? (LowRoot, MiddleRoot, HighRoot) : (LowSoftRoot, MiddleSoftRoot, HighSoftRoot);
        string source = ordinary
            ? "from the stem's size: pulled conifers, tables after B. Nicoll et al. (2006) and A. Detter et al. (2023), Forests 14(3) 533"
            : "a softer root: no source, guessed from the ordinary one";
        return values.Take("spar.root-stiffness", middle * cube, low * cube, high * cube, source);
    }

    /// <summary>Diameter of the spar at a height, linear between the measures, m.</summary>
    public static double DiameterAt(SparInput spar, double height) => DiameterAt(spar.Diameters, height);

    private static double DiameterAt(IReadOnlyList<DiameterAtHeight> d, double height)
    {
        for (int i = 1; i < d.Count; i++)
        {
            if (height <= d[i].Height)
            {
                double part = Math.Max(0, (height - d[i - 1].Height) / (d[i].Height - d[i - 1].Height));
                return d[i - 1].Diameter + (part * (d[i].Diameter - d[i - 1].Diameter));
            }
        }

        return d[^1].Diameter;
    }

    private static List<DiameterAtHeight>? Profile(CaseValues values, double height, double butt)
    {
        bool girths = values.Has("spar.girths");
        string path = girths ? "spar.girths" : "spar.diameters";
        if (values.Given(path) is not { } given)
        {
            values.Problem("spar.girths", "no girths and no diameters", "at least one measured girth or diameter low on the spar");
            return null;
        }

        List<DiameterAtHeight> d = [.. given.Items.Select(i => new DiameterAtHeight(i["at"], girths ? i["girth"] / Math.PI : i["diameter"]))];
        for (int i = 1; i < d.Count; i++)
        {
            if (d[i].Height <= d[i - 1].Height)
            {
                values.Problem(path, $"measures not from the ground up (the {CaseValues.Text(i + 1, "")}. one)", "growing heights");
                return null;
            }

            if (d[i].Diameter > d[i - 1].Diameter)
            {
                values.Remarks.Add(new Remark($"The spar grows thicker with height between {new Amount(d[i - 1].Height, "m")} and {new Amount(d[i].Height, "m")}: check the measures."));
                PieceChecks.Width(
                    values, path, $"spar at {CaseValues.Text(d[i].Height, "m")}", d[i].Diameter, $"spar at {CaseValues.Text(d[i - 1].Height, "m")}", d[i - 1].Diameter, PieceChecks.ImpossibleWidth);
            }
        }

        if (d[^1].Height > height + SameHeight)
        {
            values.Problem(path, $"a measure at {CaseValues.Text(d[^1].Height, "m")}, above the cut", $"heights up to {CaseValues.Text(height, "m")}");
            return null;
        }

        if (d[0].Height > LowestMeasure)
        {
            values.Problem(path, $"the lowest measure at {CaseValues.Text(d[0].Height, "m")}", "one within 2 m of the ground, where the bending is largest");
            return null;
        }

        PieceChecks.Cut(values, butt, d[^1].Diameter, d[^1].Height >= height - SameHeight, path);
        Complete(d, height, butt);
        values.Notes.Add(new InputNote(path, "diameters " + string.Join("; ", d.Select(x => $"{CaseValues.Text(x.Height, "m")}: {CaseValues.Text(x.Diameter, "m")}")), "", true, CaseValues.Line(given)));
        return d;
    }

    /// <summary>Adds the cut (the piece's butt) and the ground (the taper above it continued, never thinner).</summary>
    private static void Complete(List<DiameterAtHeight> d, double height, double butt)
    {
        if (d[^1].Height < height - SameHeight)
        {
            d.Add(new DiameterAtHeight(height, butt));
        }
        else
        {
            d[^1] = new DiameterAtHeight(height, d[^1].Diameter);
        }

        if (d[0].Height > 0)
        {
            double taper = d.Count > 1 ? Math.Max(0, (d[0].Diameter - d[1].Diameter) / (d[1].Height - d[0].Height)) : 0;
            d.Insert(0, new DiameterAtHeight(0, d[0].Diameter + (taper * d[0].Height)));
        }
    }

    private static double? SwayFrequency(CaseValues values)
    {
        if (values.Given("sway-test.time") is not { } time)
        {
            if (values.Has("sway-test.swings"))
            {
                values.Problem("sway-test.time", "nothing", "the time for the swings");
            }

            return null;
        }

        double frequency = values.Take("sway-test.swings").Value / time.Number;
        values.Notes.Add(new InputNote("sway-test.time", CaseValues.Text(time.Number, "s"), "", true, CaseValues.Line(time) + $": sway frequency {CaseValues.Text(frequency, "Hz")}") { Number = time.Number });
        return frequency;
    }

    private static Known Damping(CaseValues values)
    {
        GivenValue? swings = values.Given("sway-test.decay-swings");
        GivenValue? left = values.Given("sway-test.amplitude-left");
        if (swings is null != left is null)
        {
            values.Problem(swings is null ? "sway-test.decay-swings" : "sway-test.amplitude-left", "nothing", "both decay-swings and amplitude-left, or neither");
        }

        if (swings is null || left is null || values.Has("spar.damping"))
        {
            return values.Take("spar.damping");
        }

        // Logarithmic decrement: ln(1/left) / swings = 2 pi zeta / sqrt(1 - zeta^2).
        double decrement = Elementary.Log(1 / left.Number) / swings.Number;
        double zeta = decrement / Math.Sqrt((4 * Math.PI * Math.PI) + (decrement * decrement));
        return values.Take("spar.damping", Math.Min(zeta, 0.5), null, null, $"decay of the sway test, {CaseValues.Line(left)}");
    }
}
