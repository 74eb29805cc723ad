using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// Random drops that may be computed, over more than the range that anybody would rig: logs and tops, hinged and pushed off,
/// every kind of rigging point with and without friction, every catch and mishap, take-up from none to large, straight ropes
/// and curves, rigid and soft roots, low and high cuts, obstacles, ropes that are too short and ropes that break.
/// </summary>
internal static class RandomDropGenerator
{
    private const double Degrees = Math.PI / 180;
    private const double Gravity = 9.80665;

    /// <summary>Any drop.</summary>
    public static Gen<DropInput> Drop =>
        from spar in Spar
        from piece in Piece(spar)
        from start in Start(piece, spar)
        from point in RiggingPoint(spar)
        from device in Device(spar, point)
        from rope in Rope(spar, device)
        from grip in Catch
        from obstacles in Obstacle(spar).Array[0, 2]
        from strength in Strength
        from computation in Computation
        select new DropInput
        {
            Spar = spar,
            Piece = piece,
            Start = start,
            RiggingPoint = point,
            Device = device,
            Rope = rope,
            Catch = grip,
            Site = new() { Obstacles = obstacles },
            Strength = strength,
            Computation = computation,
        };

    private static Gen<bool> OneIn(int n) => Gen.Int[1, n].Select(i => i == 1);

    /// <summary>Nothing in some cases, else a value.</summary>
    private static Gen<double?> Maybe(int oneIn, Gen<double> value) => Gen.Select(OneIn(oneIn), value, (use, v) => use ? v : (double?)null);

    /// <summary>Evenly spread over the logarithm.</summary>
    private static Gen<double> Spread(double from, double to) => Gen.Double[Math.Log(from), Math.Log(to)].Select(Math.Exp);

    private static Gen<SparInput> Spar { get; } =
        from height in Gen.Double[2.5, 20]
        from top in Gen.Double[0.12, 0.8]
        from widening in Gen.Double[1.05, 2]
        from waist in Gen.Double[0.95, 1.05]
        from modulus in Gen.Double[6e9, 12e9]
        from density in Gen.Double[600, 1100]
        from rootFactor in Maybe(2, Spread(4, 100))
        from damping in Gen.Frequency((1, Gen.Const(0.0)), (9, Gen.Double[0.01, 0.1]))
        from climber in Gen.Frequency((1, Gen.Const(0.0)), (3, Gen.Double[70, 120]))
        from below in Gen.Double[0.8, 1.6]
        from rigid in OneIn(10)
        let foot = Math.Max(top * widening, height / 45)
        let weight = Gravity * ((density * Math.PI * foot * foot * height / 4) + climber)
        select new SparInput
        {
            Height = height,
            Diameters = [new(0, foot), new(height * 0.4, ((0.6 * foot) + (0.4 * top)) * waist), new(height, top)],
            Modulus = modulus,
            Density = density,
            DampingRatio = damping,
            ClimberMass = climber,
            ClimberBelowCut = below,
            Rigid = rigid,

            // A rigid stem on a root spring falls below weight x height / 2: stay above four times that.
            RootStiffness = rootFactor is { } f ? f * weight * height / 2 : double.PositiveInfinity,
        };

    private static Gen<PieceInput> Piece(SparInput spar) => Gen.Frequency((3, Log(spar)), (1, Top(spar)));

    private static Gen<PieceInput> Log(SparInput spar) =>
        from length in Gen.Double[0.4, 3]
        from taper in Gen.Double[0.6, 1]
        from density in Gen.Double[600, 1100]
        from hitch in Gen.Double[0.1, 0.9]
        from offset in Gen.Frequency((2, Gen.Const(0.0)), (1, Gen.Double[-0.15, 0.15]))
        let butt = spar.Diameters[^1].Diameter
        let tip = butt * taper
        let area = ((butt * butt) + (butt * tip) + (tip * tip)) / 3
        let mass = density * Math.PI * area * length / 4
        select new PieceInput
        {
            Mass = mass,
            Length = length,
            ButtDiameter = butt,
            TipDiameter = tip,
            CentreOfGravity = length * ((butt * butt) + (2 * butt * tip) + (3 * tip * tip)) / (12 * area),
            SidewaysOffset = offset * butt,
            Inertia = mass * ((length * length / 12) + (butt * butt / 16)),
            HitchHeight = hitch * length,
            BareLength = length,
        };

    private static Gen<PieceInput> Top(SparInput spar) =>
        from length in Gen.Double[2.5, 9]
        from mass in Spread(20, 500)
        from balance in Gen.Double[0.25, 0.5]
        from gyration in Gen.Double[0.2, 0.3]
        from hitch in Gen.Double[0.1, 1.2]
        from bare in Gen.Double[0.15, 0.5]
        from crown in Gen.Double[0, 1.5]
        from drag in Gen.Frequency((1, Gen.Const(0.0)), (2, Gen.Double[0, 4]))
        let butt = spar.Diameters[^1].Diameter
        select new PieceInput
        {
            Kind = PieceKind.Top,
            Mass = mass,
            Length = length,
            ButtDiameter = butt,
            TipDiameter = Math.Min(0.03, butt / 2),
            CentreOfGravity = balance * length,
            Inertia = mass * gyration * gyration * length * length,
            HitchHeight = hitch,
            BareLength = bare * length,
            CrownHalfWidth = crown,
            DragArea = drag,
        };

    private static Gen<StartInput> Start(PieceInput piece, SparInput spar)
    {
        var hinged =
            from depth in Gen.Double[0.1, 0.5]
            from release in Gen.Double[25, 100]
            from strength in Maybe(4, Spread(0.5, 20))
            let hinge = piece.ButtDiameter / 2 * (1 - (2 * depth))
            let balance = Math.Atan2(hinge - piece.SidewaysOffset, piece.CentreOfGravity)
            select new StartInput
            {
                FaceCutDepth = depth,
                ReleaseAngle = Math.Max(release * Degrees, balance + 0.1),
                HingeStrength = strength is { } s ? s * piece.Mass * Gravity : double.PositiveInfinity,
            };
        var pushed =
            from release in Gen.Double[8, 40]
            from speed in Gen.Double[0.05, 0.6]
            select new StartInput { Kind = StartKind.PushedOff, ReleaseAngle = release * Degrees, PushSpeed = speed };
        return Gen.Frequency((3, hinged), (1, pushed));
    }

    private static Gen<RiggingPointInput> RiggingPoint(SparInput spar) =>
        from kind in Gen.Enum<RiggingPointKind>()
        from below in Gen.Double[0.1, Math.Min(1.5, spar.Height - 1.5)]
        from standOff in Gen.Double[0.02, 0.3]
        from friction in Gen.Frequency((1, Gen.Const(0.0)), (8, Gen.Double[0.05, 0.5]), (1, Gen.Double[0.5, 1.5]))
        from efficiency in Gen.Frequency((1, Gen.Const(1.0)), (6, Gen.Double[0.4, 0.999]))
        select new RiggingPointInput { Kind = kind, BelowCut = below, StandOff = standOff, Friction = friction, Efficiency = efficiency };

    private static Gen<DeviceInput> Device(SparInput spar, RiggingPointInput point) =>
        from onSpar in Gen.Bool
        from quarters in Gen.Int[0, 18]
        from friction in Gen.Frequency((1, Gen.Const(0.0)), (9, Gen.Double[0.08, 0.35]))
        from height in Gen.Double[0.2, Math.Min(1.5, spar.Height - point.BelowCut - 0.3)]
        from off in Gen.Double[0.1, 0.3]
        from away in Gen.Double[-8, 8]
        select new DeviceInput
        {
            Wraps = quarters / 4.0,
            Friction = friction,
            OnSpar = onSpar,
            Z = height,
            X = onSpar ? (spar.Diameters[0].Diameter / 2) + off : away,
        };

    private static Gen<TakeUpInput> TakeUp { get; } = Gen.Frequency(
        (1, Gen.Const(TakeUpInput.None)),
        (2, Gen.Select(Spread(0.005, 0.6), Spread(50, 3000), Gen.Double[1, 20], (length, from, rise) => new TakeUpInput(length, from, from * rise))));

    private static Gen<RopeInput> Rope(SparInput spar, DeviceInput device) =>
        from stiffness in Spread(40e3, 1.5e6)
        from bends in Gen.Frequency((1, Gen.Const(Array.Empty<double>())), (1, Gen.Double[0.4, 2.5].Array[1, 4]))
        from ratio in Gen.Frequency((1, Gen.Const(0.0)), (3, Gen.Double[0.3, 3]))
        from relaxation in Spread(0.03, 3)
        from viscous in Spread(0.0003, 0.003)
        from slack in Gen.Frequency((1, Gen.Const(0.0)), (4, Gen.Double[0, 0.8]))
        from hitch in TakeUp
        from wraps in TakeUp
        from left in Maybe(4, Gen.Double[0, 8])
        select new RopeInput
        {
            Diameter = 0.014,
            Stiffness = stiffness,
            StretchCurve = Curve(stiffness, bends),
            RelaxingStiffnessRatio = ratio,
            RelaxationTime = relaxation,
            ViscousTime = viscous,
            Slack = slack,
            HitchTakeUp = hitch,
            WrapsTakeUp = wraps,
            RopeLeftAtDevice = left,
        };

    /// <summary>A curve of secant slopes that change by the given factors from point to point, 1.5 % of strain apart.</summary>
    private static StretchPoint[] Curve(double stiffness, double[] bends)
    {
        const double Width = 0.015;
        var points = new StretchPoint[bends.Length];
        double tension = 0;
        var slope = stiffness;
        for (var i = 0; i < bends.Length; i++)
        {
            slope *= i == 0 ? 1 : bends[i];
            tension += slope * Width;
            points[i] = new((i + 1) * Width, tension);
        }

        return points;
    }

    private static Gen<CatchInput> Catch { get; } =
        from kind in Gen.Enum<CatchKind>()
        from light in Gen.Double[0, 120]
        from grip in Gen.Double[40, 600]
        from runs in Gen.Double[0.02, 1].Array[1, 4]
        from forces in Gen.Double[0, 500].Array[4]
        from brakeFrom in Gen.Frequency((2, Gen.Const(0.0)), (1, Gen.Double[0, 2]))
        from rate in Spread(50, 5000)
        from cue in Gen.Enum<Cue>()
        from reaction in Gen.Frequency((1, Gen.Const(0.0)), (1, Gen.Double[0, 1.5]))
        from hanging in Gen.Double[1, 25]
        from snag in Maybe(8, Gen.Double[0, 3])
        from change in Maybe(8, Gen.Double[0, 2])
        from quarters in Gen.Int[0, 16]
        from lost in Maybe(8, Gen.Double[0, 2])
        from early in Maybe(8, Gen.Double[0, 1])
        select new CatchInput
        {
            Kind = kind,
            LightForce = light,
            GripForce = grip,
            Brake = Plan(runs, forces),
            BrakeFrom = brakeFrom,
            ForceRate = rate,
            Cue = cue,
            ReactionTime = reaction,
            HangingRopeWeight = hanging,
            SnagAfterRun = snag,
            WrapsChangeTime = change,
            WrapsAfterChange = quarters / 4.0,
            HandLostTime = lost,
            GripEarlyTime = early,
        };

    private static BrakePoint[] Plan(double[] widths, double[] forces)
    {
        var plan = new BrakePoint[widths.Length];
        double run = 0;
        for (var i = 0; i < widths.Length; i++)
        {
            plan[i] = new(run, forces[i]);
            run += widths[i];
        }

        return plan;
    }

    private static Gen<ObstacleInput> Obstacle(SparInput spar) =>
        from near in Gen.Double[0.7, 4]
        from wide in Gen.Double[0.1, 3]
        from high in Gen.Double[0.1, 0.6]
        from thick in Gen.Double[0.05, 1]
        let top = high * spar.Height
        select new ObstacleInput("an obstacle", spar.Diameters[0].Diameter + near, spar.Diameters[0].Diameter + near + wide, top * (1 - thick), top);

    private static Gen<StrengthInput> Strength { get; } =
        from rope in Maybe(4, Spread(8e3, 80e3))
        from knot in Gen.Double[0.5, 0.8]
        from bend in Gen.Double[0.6, 1]
        select new StrengthInput { Rope = rope, KnotEfficiency = knot, RingBendEfficiency = bend };

    private static Gen<ComputationInput> Computation { get; } =
        from modes in Gen.Int[1, 5]
        from end in Gen.Double[3, 8]
        from stiffness in Spread(0.3e6, 3e6)
        from damping in Gen.Double[0, 2]
        from rub in Gen.Double[0, 0.5]
        from settle in Gen.Bool
        select new ComputationInput
        {
            Modes = modes,
            EndTime = end,
            ContactStiffness = stiffness,
            ContactDamping = damping,
            ContactFriction = rub,
            StopWhenSettled = settle,
        };
}
