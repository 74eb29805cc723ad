using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Building;

/// <summary>Rope, take-up and strengths.</summary>
internal static class RopeBuilder
{
    /// <summary>EA from a catalogue is known to a factor 2; measured by a stretch test to 25 %; given to 25 %. Common practice, no source.</summary>
    private const double CatalogueFactor = 2, MeasuredPart = 0.25;

    /// <summary>A default rope is this many times as long as the cut is high, at least. Common practice, no source.</summary>
    private const double LengthOverHeight = 2.5;

    private const string DefaultKnot = "running bowline";

    /// <summary>A diameter this near to a tabulated one is close enough for diameter squared. Choice of this model.</summary>
    private const double NearEnough = 0.1;

    private const double Gravity = 9.80665;

    private static readonly SizeDefault DefaultLength = new("45 m | 50 m | 60 m | 60 m", KeyTable.Practice);

    internal sealed record Result(RopeInput Input, RopeEntry? Entry, KnotEntry? Knot, Known Stiffness, Known Relaxing, Known Slack, Known HitchTakeUp, Known WrapsTakeUp);

    public static Result? Build(CaseValues values, Catalogue catalogue, double cutHeight)
    {
        double diameter = values.Take("rope.diameter", double.NaN, null, null, "").Value;
        RopeEntry? entry = Entry(values, catalogue, diameter);
        Known? stiffness = Stiffness(values, entry);
        IReadOnlyList<StretchPoint> curve = Curve(values);
        if (stiffness is null)
        {
            return null;
        }

        KnotEntry? knot = Knot(values, catalogue);
        Known slack = values.Take("rope.slack");
        Known hitch = knot?.TakeUp is { } own && !values.Has("rope.hitch-take-up.length")
            ? values.Take("rope.hitch-take-up.length", own, 0, 0.30, $"{knot.Name}: {knot.Source}")
            : values.Take("rope.hitch-take-up.length");
        Known wraps = values.Take("rope.wraps-take-up.length");
        Known relaxing = values.Take("rope.relaxing-ratio");
        double? left = values.Optional("rope.left-at-device");
        return new Result(
            new RopeInput
            {
                Diameter = diameter,
                Stiffness = stiffness.Value,
                StretchCurve = curve,
                RelaxingStiffnessRatio = relaxing.Value,
                RelaxationTime = values.Take("rope.relaxation-time").Value,
                ViscousTime = values.Take("rope.viscous-time").Value,
                Slack = slack.Value,
                TotalLength = left is null ? Length(values, cutHeight) : null,
                RopeLeftAtDevice = left,
                HitchTakeUp = TakeUp(values, "rope.hitch-take-up", hitch.Value),
                WrapsTakeUp = TakeUp(values, "rope.wraps-take-up", wraps.Value),
                MassPerLength = values.OptionalOr("rope.mass-per-length", entry?.MassPerLength, entry?.Source ?? ""),
            },
            entry, knot, stiffness, relaxing, slack, hitch, wraps);
    }

    public static StrengthInput Strength(CaseValues values, Catalogue catalogue, Result rope, RiggingPointInput point, DeviceInput device)
    {
        double? Bend(double? over) => over is { } d ? catalogue.BendEfficiency(d / rope.Input.Diameter) : null;
        double? sling = values.Optional("sling.strength");
        string configuration = values.Has("sling.configuration") ? values.Word("sling.configuration") : "";
        if (configuration.Length > 0 && sling is { } straight)
        {
            SlingEntry entry = catalogue.Slings.First(s => s.Configuration == configuration);
            sling = straight * entry.Factor;
            values.Note("sling.strength", new Known(sling.Value, null, null, true, $"as configured, factor {CaseValues.Text(entry.Factor, "")}: {entry.Source}"), QuantityKind.Force);
        }

        if (sling is not null && point.Kind == RiggingPointKind.NaturalUnion)
        {
            values.Problem("sling.strength", "a sling in a natural union", "no sling: the rope lies in the fork itself");
        }

        RopeChecks.Strength(values, catalogue, rope.Input.Diameter);
        const string Bends = "over the bend's diameter, from memory";
        return new StrengthInput
        {
            Rope = values.OptionalOr("strength.rope", rope.Entry?.BreakingStrength, rope.Entry?.Source ?? ""),
            KnotEfficiency = values.OptionalOr("strength.knot", rope.Knot?.Retained, rope.Knot is null ? "" : $"{rope.Knot.Name}: {rope.Knot.Source}"),
            RingBendEfficiency = values.OptionalOr("strength.ring-bend", Bend(point.BendDiameter), Bends),
            BollardBendEfficiency = values.OptionalOr("strength.bollard-bend", Bend(device.BollardDiameter), Bends),
            WetFactor = values.Take("strength.wet").Value,
            AgeFactor = values.Take("strength.age").Value,
            Sling = sling,
            RingOrBlock = values.OptionalOr("strength.ring-or-block", null, ""),
            Device = values.OptionalOr("strength.device", null, ""),
            DesignFactor = values.Optional("strength.design-factor"),
            BreakRope = values.Flag("strength.break-rope"),
        };
    }

    /// <summary>Reports a construction or a knot that the catalogue does not have, where the rope itself cannot be built.</summary>
    public static void CheckNames(CaseValues values, Catalogue catalogue)
    {
        // Whether a construction is known does not hang on the diameter.
        Entry(values, catalogue, AnyDiameter);
        Knot(values, catalogue);
    }

    private const double AnyDiameter = 0.014;

    private static RopeEntry? Entry(CaseValues values, Catalogue catalogue, double diameter)
    {
        if (values.Given("rope.construction") is not { } construction)
        {
            return null;
        }

        RopeEntry? entry = catalogue.FindRope(construction.Word, diameter);
        if (entry is null)
        {
            values.Problem("rope.construction", $"\"{construction.Word}\"", "a construction of the catalogue: " + string.Join(", ", catalogue.Ropes.Select(r => r.Construction).Distinct()),
                NearestName.Of(construction.Word, [.. catalogue.Ropes.Select(r => r.Construction).Distinct()]));
            return null;
        }

        values.Notes.Add(new InputNote("rope.construction", entry.Construction, "", true, CaseValues.Line(construction)));
        bool far = catalogue.Ropes.Where(r => r.Construction == entry.Construction).All(r => Math.Abs((diameter / r.Diameter) - 1) > NearEnough);
        if (far && entry.Origin == TableOrigin.Extrapolated)
        {
            values.Remarks.Add(new Remark($"The rope's diameter lies outside the catalogue ({entry.Source}): give the maker's breaking strength and stretch."));
        }

        return entry;
    }

    private static Known? Stiffness(CaseValues values, RopeEntry? entry)
    {
        if (values.Given("stretch-test.stretch") is { } stretch)
        {
            if (values.Given("stretch-test.length") is not { } length || values.Given("stretch-test.mass") is not { } mass)
            {
                values.Problem("stretch-test", "a part of a stretch test", "length, mass and stretch together");
                return null;
            }

            double ea = mass.Number * Gravity * length.Number / stretch.Number;
            KeySpec limits = KeyTable.ByPath["rope.stiffness"];
            if (ea < limits.Least || ea > limits.Most)
            {
                values.Problem("stretch-test.stretch", $"a test that gives a stiffness of {CaseValues.Text(ea, "N")}", $"{CaseValues.Text(limits.Least, "N")} to {CaseValues.Text(limits.Most, "N")}: check length, mass and stretch");
                return null;
            }

            Known measured = new(ea, ea * (1 - MeasuredPart), ea * (1 + MeasuredPart), true, $"stretch test, {CaseValues.Line(stretch)}; range +-25 %");
            values.Note("rope.stiffness", measured, QuantityKind.Force);
            return measured;
        }

        if (values.Given("rope.stiffness") is { } given)
        {
            Known own = new(given.Number, given.Low ?? (given.Number * (1 - MeasuredPart)), given.High ?? (given.Number * (1 + MeasuredPart)), true, CaseValues.Line(given) + (given.Low is null ? "; range +-25 %" : ""));
            values.Note("rope.stiffness", own, QuantityKind.Force);
            return own;
        }

        if (entry is null)
        {
            if (!values.Has("rope.construction"))
            {
                values.Problem("rope.construction", "neither construction nor stiffness", "one of them, for example construction = \"polyester 16-strand\"");
            }

            return null;
        }

        return values.Take("rope.stiffness", entry.Stiffness, entry.Stiffness / CatalogueFactor, entry.Stiffness * CatalogueFactor, entry.Source + "; factor 2 either way");
    }

    private static List<StretchPoint> Curve(CaseValues values)
    {
        if (values.Given("rope.stretch-curve") is not { } given)
        {
            return [];
        }

        List<StretchPoint> points = [.. given.Items.Select(i => new StretchPoint(i["strain"], i["tension"]))];
        for (int i = 1; i < points.Count; i++)
        {
            if (points[i].Strain <= points[i - 1].Strain || points[i].Tension <= points[i - 1].Tension)
            {
                values.Problem("rope.stretch-curve", $"points that do not rise (the {CaseValues.Text(i + 1, "")}. one)", "growing strain and growing tension");
                break;
            }
        }

        values.Notes.Add(new InputNote("rope.stretch-curve", string.Join("; ", points.Select(p => $"{CaseValues.Text(p.Strain, "")}: {CaseValues.Text(p.Tension, "N")}")), "", true, CaseValues.Line(given)));
        return points;
    }

    private static KnotEntry? Knot(CaseValues values, Catalogue catalogue)
    {
        GivenValue? given = values.Given("rope.knot");
        string name = given?.Word ?? DefaultKnot;
        KnotEntry? knot = catalogue.FindKnot(name);
        if (knot is null)
        {
            values.Problem("rope.knot", $"\"{name}\"", "a knot of the catalogue: " + string.Join(", ", catalogue.Knots.Select(k => k.Name)),
                NearestName.Of(name, [.. catalogue.Knots.Select(k => k.Name)]));
            return null;
        }

        values.Notes.Add(new InputNote("rope.knot", knot.Name, "", given is not null, given is null ? KeyTable.Practice : CaseValues.Line(given)));
        return knot;
    }

    private static double Length(CaseValues values, double cutHeight)
    {
        if (values.Has("rope.length"))
        {
            return values.Take("rope.length").Value;
        }

        Known bySize = values.Take("rope.length", DefaultLength);
        if (bySize.Value >= LengthOverHeight * cutHeight)
        {
            return bySize.Value;
        }

        values.Notes.RemoveAt(values.Notes.Count - 1);
        return values.Take("rope.length", LengthOverHeight * cutHeight, null, null, "2.5 times the height of the cut; " + KeyTable.Practice).Value;
    }

    private static TakeUpInput TakeUp(CaseValues values, string section, double length)
    {
        if (length <= 0)
        {
            return TakeUpInput.None;
        }

        double from = values.Take($"{section}.force-from").Value;
        double to = values.Take($"{section}.force-to").Value;
        if (from <= 0)
        {
            values.Problem($"{section}.force-from", "a take-up that begins without force", "more than 0 N");
        }

        if (to <= from)
        {
            values.Problem($"{section}.force-to", "a force that is not above force-from", $"more than {CaseValues.Text(from, "N")}");
        }

        return new TakeUpInput(length, from, to);
    }
}
