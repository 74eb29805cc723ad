using DropSim.Model;

namespace DropSim.Scenarios.Building;

/// <summary>
/// What is uncertain in a case, with its range, in one place. A value that was measured narrows its own range where it is
/// read (a weighed mass, a hold test, a stretch test); a range of the file replaces the default one.
/// </summary>
internal static class CaseRanges
{
    /// <summary>A root's stiffness that was given without a range is known to this factor either way. Common practice, no source.</summary>
    private const double GivenRoot = 2;

    /// <summary>Ten timed swings give the frequency to about 3 %. Common practice, no source.</summary>
    private const double SwayReading = 0.03;

    /// <summary>Room left between the starting lean and the least release angle, rad. Choice of this model.</summary>
    private const double LeastTip = 2 * Math.PI / 180;

    public static List<InputRange> Build(
        DropInput input, Known mass, Known deviceFriction, RiggingBuilder.Point point, RopeBuilder.Result rope, Known release, Known root, double startLean)
    {
        List<InputRange> ranges = [];
        void Add(string key, string name, Known known, double least = double.NegativeInfinity)
        {
            if (known.Low is { } low && known.High is { } high && Math.Max(low, least) < high)
            {
                UncertainKey of = UncertainKeys.Of(key);
                ranges.Add(new InputRange(name, of.Unit, known.Value, Math.Max(low, least), high, known.Source, of.Set) { Key = key });
            }
        }

        Add("piece.mass", "mass of the piece", mass);
        Add("device.friction", "device friction", deviceFriction);
        if (input.RiggingPoint.Kind == RiggingPointKind.Block)
        {
            Add("rigging-point.efficiency", "block efficiency", point.Efficiency);
        }
        else
        {
            Add("rigging-point.friction", input.RiggingPoint.Kind == RiggingPointKind.Ring ? "ring friction" : "union friction", point.Friction);
        }

        Add("rope.stiffness", "rope stiffness", rope.Stiffness);
        AddRelaxing(ranges, rope);
        Add("start.release-angle", "release angle", release, startLean + LeastTip);
        Add("rope.slack", "slack", rope.Slack);
        AddTakeUp(ranges, input, rope);
        AddRoot(ranges, input, root);
        return ranges;
    }

    /// <summary>Another mass of the same piece: inertia scales with it, balance and shape stay.</summary>
    public static DropInput WithMass(DropInput input, double mass) => input with
    {
        Piece = input.Piece with { Mass = mass, Inertia = input.Piece.Inertia * mass / input.Piece.Mass },
    };

    /// <summary>Another stiffness of the same rope: the points of its curve scale with it.</summary>
    public static DropInput WithStiffness(DropInput input, double stiffness) => input with
    {
        Rope = input.Rope with
        {
            Stiffness = stiffness,
            StretchCurve = [.. input.Rope.StretchCurve.Select(p => p with { Tension = p.Tension * stiffness / input.Rope.Stiffness })],
        },
    };

    /// <summary>One scale for the take-up of hitch and wraps: 0 is none, the upper bound for forces.</summary>
    private static void AddTakeUp(List<InputRange> ranges, DropInput input, RopeBuilder.Result rope)
    {
        double total = rope.HitchTakeUp.Value + rope.WrapsTakeUp.Value;
        if (total <= 0)
        {
            return;
        }

        double hitch = input.Rope.HitchTakeUp.Length;
        double wraps = input.Rope.WrapsTakeUp.Length;
        double most = ((rope.HitchTakeUp.High ?? hitch) + (rope.WrapsTakeUp.High ?? wraps)) / total;
        ranges.Add(new InputRange("take-up of hitch and wraps, scale", "", 1, 0, Math.Max(1, most), rope.HitchTakeUp.Source, (d, v) => d with
        {
            Rope = d.Rope with
            {
                HitchTakeUp = d.Rope.HitchTakeUp with { Length = hitch * v },
                WrapsTakeUp = d.Rope.WrapsTakeUp with { Length = wraps * v },
            },
        })
        { Key = "rope.hitch-take-up.length", Form = RangeForm.Factor, ShortName = "take-up of hitch and wraps" });
    }

    /// <summary>
    /// How much stiffer the rope is in a jerk. Where the slow stiffness was measured or given it stays; where it comes from the catalogue the
    /// stiffness in a jerk is what ropes have in common, and the ratio says which part of it lasts: the two move against each other.
    /// </summary>
    private static void AddRelaxing(List<InputRange> ranges, RopeBuilder.Result rope)
    {
        Known known = rope.Relaxing;
        if (known.Low is not { } low || known.High is not { } high || !(low < high))
        {
            return;
        }

        UncertainKey key = UncertainKeys.Of("rope.relaxing-ratio");
        Func<DropInput, double, DropInput> set = rope.Stiffness.Given ? key.Set : WithLastingPart;
        ranges.Add(new InputRange("rope's part that relaxes over the part that lasts", "", known.Value, low, high, known.Source, set) { Key = key.Key });
    }

    /// <summary>Another ratio at the same stiffness in a jerk.</summary>
    private static DropInput WithLastingPart(DropInput input, double ratio)
    {
        DropInput other = WithStiffness(input, input.Rope.Stiffness * (1 + input.Rope.RelaxingStiffnessRatio) / (1 + ratio));
        return other with { Rope = other.Rope with { RelaxingStiffnessRatio = ratio } };
    }

    /// <summary>
    /// The root by its stiffness; a rigid one is meant as such. Where a sway test fits the stem, its reading is varied instead.
    /// </summary>
    private static void AddRoot(List<InputRange> ranges, DropInput input, Known root)
    {
        if (input.Spar.Rigid)
        {
            return;
        }

        if (input.Spar.MeasuredSwayFrequency is { } frequency)
        {
            ranges.Add(new InputRange("sway frequency of the spar", "Hz", frequency, frequency * (1 - SwayReading), frequency * (1 + SwayReading),
                "sway test; reading +-3 %, common practice, no source", static (d, v) => d with { Spar = d.Spar with { MeasuredSwayFrequency = v } })
            { Key = "sway-test.time" });
            return;
        }

        if (!double.IsFinite(root.Value))
        {
            return;
        }

        UncertainKey of = UncertainKeys.Of("spar.root-stiffness");
        ranges.Add(new InputRange("root stiffness", of.Unit, root.Value, root.Low ?? (root.Value / GivenRoot), root.High ?? (root.Value * GivenRoot), root.Source, of.Set) { Key = of.Key });
    }
}
