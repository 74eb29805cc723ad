using DropSim.Integration;
using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>Rigging point and friction device, with the hold test that may replace the device's coefficient.</summary>
internal static class RiggingBuilder
{
    /// <summary>Reading error of a spring scale and of "just creeps", either way. Common practice, no source.</summary>
    private const double HandReading = 0.15;

    /// <summary>Force with which the default wraps must hold the hanging piece, N. Common practice, no source.</summary>
    private const double DefaultHold = 50;

    /// <summary>Wrap angle at the rigging point when both legs hang down, rad.</summary>
    private const double HalfTurn = Math.PI;

    internal sealed record Point(RiggingPointInput Input, Known Friction, Known Efficiency);

    internal sealed record Device(DeviceInput Input, Known Friction);

    public static Point BuildPoint(CaseValues values, Catalogue catalogue)
    {
        string kind = values.Word("rigging-point.kind");
        RiggingPointKind pointKind = kind switch { "block" => RiggingPointKind.Block, "natural-union" => RiggingPointKind.NaturalUnion, _ => RiggingPointKind.Ring };
        string name = kind;
        if (pointKind == RiggingPointKind.NaturalUnion)
        {
            name = $"natural union {values.Word("rigging-point.bark")} bark";
            foreach (string needed in new[] { "rigging-point.below-cut", "rigging-point.stand-off" })
            {
                if (!values.Has(needed))
                {
                    values.Problem(needed, "nothing", "where the fork really stands: a natural union has no default place");
                }
            }
        }

        FrictionEntry friction = catalogue.Friction(name, "friction");
        FrictionEntry efficiency = catalogue.Friction("block", "efficiency");
        Known mu = values.Take("rigging-point.friction", friction.Value, friction.Low, friction.High, friction.Source);
        Known eta = pointKind == RiggingPointKind.Block
            ? values.Take("rigging-point.efficiency", efficiency.Value, efficiency.Low, efficiency.High, efficiency.Source)
            : new Known(efficiency.Value, null, null, false, "not used");
        if (pointKind != RiggingPointKind.Block && values.Has("rigging-point.efficiency"))
        {
            values.Problem("rigging-point.efficiency", $"an efficiency for a {kind}", "friction: only a block has an efficiency");
        }

        return new Point(
            new RiggingPointInput
            {
                Kind = pointKind,
                BelowCut = values.Take("rigging-point.below-cut").Value,
                StandOff = values.Take("rigging-point.stand-off", pointKind == RiggingPointKind.Block ? KeyTable.BlockStandOff : KeyTable.RingStandOff).Value,
                Friction = mu.Value,
                Efficiency = eta.Value,
                BendDiameter = values.Optional("rigging-point.bend-diameter"),
            },
            mu,
            eta);
    }

    public static Device BuildDevice(CaseValues values, Catalogue catalogue, SparInput spar, Point point, double pieceMass)
    {
        FrictionEntry bollard = catalogue.Friction("bollard", "friction");
        Known friction = HoldTest(values, point) ?? values.Take("device.friction", bollard.Value, bollard.Low, bollard.High, bollard.Source);
        double height = values.Take("device.height").Value;
        bool onSpar = values.Flag("device.on-spar");
        double x;
        if (values.Has("device.x"))
        {
            x = values.Take("device.x").Value;
        }
        else
        {
            x = (SparBuilder.DiameterAt(spar, height) / 2) + values.Take("device.off-face").Value;
            if (!onSpar)
            {
                values.Problem("device.x", "nothing", "where the device stands, because it is not on the spar");
            }
        }

        double wraps = values.Take("device.wraps", DefaultWraps(pieceMass, friction.Value, point.Input), null, null,
            "the nearest half turn at which 50 N holds the hanging piece still").Value;
        QuarterTurns(values, "device.wraps", wraps);
        return new Device(
            new DeviceInput
            {
                Wraps = wraps,
                Friction = friction.Value,
                X = x,
                Z = height,
                OnSpar = onSpar,
                BollardDiameter = values.Optional("device.bollard-diameter"),
            },
            friction);
    }

    /// <summary>Warns where wraps are not quarters of a turn.</summary>
    public static void QuarterTurns(CaseValues values, string path, double wraps)
    {
        const double Tolerance = 1e-9;
        if (Math.Abs((4 * wraps) - Math.Round(4 * wraps)) > Tolerance)
        {
            values.Remarks.Add(new Remark($"{path} is not a multiple of a quarter turn: count from where the rope meets the bollard to where it leaves."));
        }
    }

    /// <summary>Tension ratio of the rigging point when the piece hangs still and creeps down: both legs down, half a turn.</summary>
    public static double HangingRatio(RiggingPointKind kind, double friction, double efficiency)
    {
        double sliding = Elementary.Exp(friction * HalfTurn);
        return kind == RiggingPointKind.Block ? Math.Min(1 / efficiency, sliding) : sliding;
    }

    /// <summary>
    /// Device friction from a hold test. At creep m g = rho_r exp(2 pi N mu) T3, so mu = ln(m g / (rho_r T3)) / (2 pi N).
    /// The range that remains: the rigging point's friction over its range, and the hand's reading.
    /// </summary>
    public static (double Value, double Low, double High) DeviceFriction(
        double mass, double wraps, double hand, double pointRatio, double pointRatioLow, double pointRatioHigh)
    {
        const double Gravity = 9.80665;
        double turn = 2 * Math.PI * wraps;
        double At(double ratio, double force) => Elementary.Log(mass * Gravity / (ratio * force)) / turn;
        return (At(pointRatio, hand), At(pointRatioHigh, hand * (1 + HandReading)), At(pointRatioLow, hand * (1 - HandReading)));
    }

    private static Known? HoldTest(CaseValues values, Point point)
    {
        GivenValue? hand = values.Given("hold-test.hand");
        GivenValue? mass = values.Given("hold-test.mass");
        GivenValue? wraps = values.Given("hold-test.wraps");
        if (hand is null && mass is null && wraps is null)
        {
            return null;
        }

        if (hand is null || mass is null || wraps is null)
        {
            values.Problem("hold-test", "a part of a hold test", "mass, wraps and hand together");
            return null;
        }

        bool block = point.Input.Kind == RiggingPointKind.Block;
        double Ratio(double? mu, double? eta) => HangingRatio(point.Input.Kind, mu ?? point.Friction.Value, eta ?? point.Efficiency.Value);
        double low = Ratio(point.Friction.Low, point.Efficiency.High);
        double high = Ratio(point.Friction.High, point.Efficiency.Low);
        double central = Ratio(null, null);
        (double value, double lowMu, double highMu) = DeviceFriction(mass.Number, wraps.Number, hand.Number, central, low, high);
        if (!(value > 0.01) || value > 1)
        {
            values.Problem("hold-test.hand", $"a hold test that gives a device friction of {CaseValues.Text(value, "")}",
                "0.01 to 1: check mass, wraps, the hand's pull and the rigging point's friction");
            return null;
        }

        Known known = new(value, Math.Max(0.005, lowMu), highMu, true,
            $"hold test, {CaseValues.Line(hand)}; what is left of the range: {(block ? "block efficiency" : "rigging-point friction")} over its range, hand reading +-15 %");
        values.Note("device.friction", known, Units.QuantityKind.Number);
        return known;
    }

    /// <summary>Turns at which a light hand (50 N) just holds the hanging piece still: m g = rho_r exp(2 pi N mu) x 50 N; 0 where the rigging point alone holds it.</summary>
    public static double HoldingTurns(double mass, double friction, double pointRatio)
    {
        const double Gravity = 9.80665;
        return Elementary.Log(Math.Max(1, mass * Gravity / (DefaultHold * pointRatio))) / (2 * Math.PI * friction);
    }

    /// <summary>
    /// Turns at which a light hand (50 N) just holds a piece, from a hold test over the same gear: with M g = rho_r exp(2 pi N0 mu) F and
    /// m g = rho_r exp(2 pi N mu) x 50 N the rigging point drops out, N = N0 + ln(m F / (M x 50 N)) / (2 pi mu). Fewest and most over
    /// the piece's mass, the device's friction and the hand's reading.
    /// </summary>
    public static (double Low, double High) TestedTurns(
        double testMass, double testWraps, double testHand, (double Low, double High) mass, (double Low, double High) friction)
    {
        double At(double m, double reading, double mu) => testWraps + (Elementary.Log(m * testHand * reading / (testMass * DefaultHold)) / (2 * Math.PI * mu));
        double[] turns =
        [
            .. from m in new[] { mass.Low, mass.High }
               from reading in new[] { 1 - HandReading, 1 + HandReading }
               from mu in new[] { friction.Low, friction.High }
               select Math.Max(0, At(m, reading, mu)),
        ];
        return (turns.Min(), turns.Max());
    }

    private static double DefaultWraps(double mass, double friction, RiggingPointInput point)
    {
        double turns = HoldingTurns(mass, friction, HangingRatio(point.Kind, point.Friction, point.Efficiency));
        return Math.Clamp(Math.Round(2 * turns, MidpointRounding.AwayFromZero) / 2, 0.5, 8);
    }
}
