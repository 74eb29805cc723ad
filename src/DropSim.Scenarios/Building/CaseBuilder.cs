using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>One case from the values of its set-up and catch.</summary>
internal static class CaseBuilder
{
    /// <summary>Balance lean above which a piece must be pulled or wedged over, rad. Choice of this model.</summary>
    private const double MustBePulled = 20 * Math.PI / 180;

    private static readonly Known PushedOffRelease = new(15 * KeyTable.Degree, 10 * KeyTable.Degree, 25 * KeyTable.Degree, false, KeyTable.Practice);

    public static DropCase? Build(CaseValues values, Catalogue catalogue, string setup, string catchName, IReadOnlyList<ObstacleInput> obstacles)
    {
        if (PieceBuilder.Build(values, catalogue) is not { } piece
            || SparBuilder.Build(values, catalogue, piece.Input, piece.Species) is not { } spar)
        {
            return null;
        }

        RiggingBuilder.Point point = RiggingBuilder.BuildPoint(values, catalogue);
        RopeBuilder.Result? rope = RopeBuilder.Build(values, catalogue, spar.Input.Height);
        RiggingBuilder.Device device = RiggingBuilder.BuildDevice(values, catalogue, spar.Input, point, piece.Input.Mass);
        (StartInput start, Known release) = Start(values);
        CatchInput held = CatchBuilder.Build(values);
        ComputationInput computation = Computation(values);
        if (rope is null)
        {
            return null;
        }

        DeviceInput ownWraps = device.Input;
        if (values.Optional("catch.wraps") is { } wraps)
        {
            RiggingBuilder.QuarterTurns(values, "catch.wraps", wraps);
            ownWraps = ownWraps with { Wraps = wraps };
        }

        DropInput input = new()
        {
            Piece = piece.Input,
            Start = start,
            Spar = spar.Input,
            RiggingPoint = point.Input,
            Rope = rope.Input,
            Device = ownWraps,
            Catch = held,
            Site = new SiteInput { Obstacles = obstacles },
            Strength = RopeBuilder.Strength(values, catalogue, rope, point.Input, device.Input),
            Computation = computation,
        };
        double lean = GeometryChecks.Check(values, input);
        values.LastLineOfDefence(input);
        double balance = lean - start.LeanPastBalance;
        if (start.Kind == StartKind.FaceCut && balance > MustBePulled)
        {
            values.Remarks.Add(new Remark($"The piece stands stable until it leans {Math.Round(balance / KeyTable.Degree)} degrees: it must be pulled or wedged over."));
        }

        List<StatedLimit> limits = LimitsBuilder.Build(values, input.Strength.DesignFactor);
        values.WarnOfUnused();
        List<InputRange> ranges = CaseRanges.Build(input, piece.Mass, device.Friction, point, rope, release, spar.Root, lean);
        return new DropCase(setup, catchName, input, ranges, values.Notes, [.. values.Remarks.DistinctBy(r => r.ToString())]) { Limits = limits };
    }

    private static (StartInput Input, Known Release) Start(CaseValues values)
    {
        bool pushed = values.Word("start.kind") == "pushed-off";
        if (pushed && values.Has("start.face-cut-depth"))
        {
            values.Problem("start.face-cut-depth", "a face cut in a piece that is pushed off", "kind = \"face-cut\", or no face cut");
        }

        Known release = pushed
            ? values.Take("start.release-angle", PushedOffRelease.Value, PushedOffRelease.Low, PushedOffRelease.High, PushedOffRelease.Source)
            : values.Take("start.release-angle");
        StartInput input = new()
        {
            Kind = pushed ? StartKind.PushedOff : StartKind.FaceCut,
            FaceCutDepth = pushed ? 0 : values.Take("start.face-cut-depth").Value,
            ReleaseAngle = release.Value,
            HingeStrength = values.Optional("start.hinge-strength") ?? double.PositiveInfinity,
            LeanPastBalance = values.Take("start.lean-past-balance").Value,
            InitialRate = values.Take("start.initial-rate").Value,
            PushSpeed = values.Take("start.push-speed").Value,
        };
        return (input, release);
    }

    private static ComputationInput Computation(CaseValues values)
    {
        const double Whole = 1e-9;
        double modes = values.Take("computation.modes").Value;
        double elements = values.Take("computation.elements").Value;
        foreach ((string path, double value) in new[] { ("computation.modes", modes), ("computation.elements", elements) })
        {
            if (Math.Abs(value - Math.Round(value)) > Whole)
            {
                values.Problem(path, CaseValues.Text(value, ""), "a whole number");
            }
        }

        return new ComputationInput
        {
            Modes = (int)Math.Round(modes),
            Elements = (int)Math.Round(elements),
            EndTime = values.Take("computation.end-time").Value,
            StopWhenSettled = values.Flag("computation.stop-when-settled"),
            RelativeTolerance = values.Take("computation.relative-tolerance").Value,
            ContactStiffness = values.Take("computation.contact-stiffness").Value,
            ContactDamping = values.Take("computation.contact-damping").Value,
            ContactFriction = values.Take("computation.contact-friction").Value,
            Gravity = values.Take("computation.gravity").Value,
            AirDensity = values.Take("computation.air-density").Value,
        };
    }
}
