using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// The same drop at another size. With all lengths times s, masses times s^3 (the same wood) and times times sqrt(s), gravity
/// stays as it is and every force is s^3 times as large, if stiffnesses go along: EA by s^3 (force over strain), E of the stem by s
/// (stress over strain), the root by s^4 (moment over angle), the contact by s^1.5 (force over length^1.5). No law of the model knows an
/// absolute length, time or force; its few guards against 0/0 and settings of the integrator are too small to show.
/// s = 1/4: every factor is a power of two, so that the numbers themselves are scaled without round-off.
/// </summary>
public sealed class ScalingTests
{
    private const double S = 0.25;
    private const double Force = S * S * S;
    private const double Time = 0.5;

    private const int RandomDropsTried = 8;

    /// <summary>Rope that slips to and fro over the rigging point in a catch and its rebounds, m.</summary>
    private const double RopeMoved = 0.5;

    private static readonly (string Id, double Factor)[] _measures =
    [
        (MeasureIds.RiggingPointForce, Force), (MeasureIds.LoadLegTension, Force), (MeasureIds.GroundLegTension, Force), (MeasureIds.HandForce, Force),
        (MeasureIds.HingeForce, Force), (MeasureIds.BaseMoment, Force * S), (MeasureIds.SparStress, S),
        (MeasureIds.Room, S), (MeasureIds.ClimberMovement, S), (MeasureIds.RopeRun, S), (MeasureIds.RopeSlip, S), (MeasureIds.DropToTaut, S),
        (MeasureIds.TimeToTaut, Time), (MeasureIds.TimeToPeak, Time), (MeasureIds.SwayFrequency, 1 / Time),
    ];

    public static TheoryData<string> Samples => ["light log", "medium log", "heavy log", "top"];

    [Theory]
    [MemberData(nameof(Samples))]
    public void A_drop_at_a_quarter_of_the_size_has_a_sixty_fourth_of_the_forces(string name)
    {
        foreach (var drop in new[] { Sample(name), Sample(name).HardStop() })
        {
            var (large, small) = (DropSimulator.Run(Exact(drop)), DropSimulator.Run(Exact(Scaled(drop))));

            foreach (var (id, factor) in _measures)
            {
                // Tolerance 1e-11, since thirty strikes one after another multiply an error thousands of times; strikes and slips make later peaks a little more sensitive. The slip is what is left of many to and fro:
                // it errs by a share of the rope that moved, some tenths of a metre, not of the few millimetres that may be left.
                var size = id == MeasureIds.RopeSlip ? Math.Max(Math.Abs(large[id].Value), RopeMoved) : Math.Abs(large[id].Value);
                small[id].Value.Should().BeApproximately(factor * large[id].Value, 1e-5 * factor * size, $"{name}: {id}");
            }

            small.Strikes.Should().HaveSameCount(large.Strikes);
            foreach (var (a, b) in small.Strikes.Zip(large.Strikes))
            {
                // A late strike that carries a ten-thousandth of the drop's energy hangs on all that came before it.
                a.Energy.Should().BeApproximately(Force * S * b.Energy, Force * S * ((1e-3 * b.Energy) + (1e-6 * large.Ledger.Fallen)));
            }
        }
    }

    /// <summary>Random drops to one second after hinge break: long enough for the catch, too short for the chaos of many strikes.</summary>
    [Fact]
    public void Random_drops_scale_too()
    {
        for (var number = 0; number < RandomDropsTried; number++)
        {
            var drop = RandomDropGenerator.Drop.Generate(new PCG(3, (ulong)(number * 31) + 7), null, out _);

            // The chosen drops keep what a quarter of the size is allowed: a viscous time of at most 3 ms is 1.5 ms there.
            drop = drop with { Computation = drop.Computation with { EndTime = 2, StopWhenSettled = false } };
            var (large, small) = (DropSimulator.Run(Exact(drop)), DropSimulator.Run(Exact(Scaled(drop))));

            small.End.Kind.Should().Be(large.End.Kind, $"drop {number}");
            foreach (var (id, factor) in _measures.Where(m => m.Id is not MeasureIds.TimeToPeak and not MeasureIds.SparStress))
            {
                if (double.IsNaN(large[id].Value))
                {
                    small[id].Value.Should().Be(double.NaN, $"drop {number}: {id}");
                    continue;
                }

                small[id].Value.Should().BeApproximately(factor * large[id].Value, factor * ((1e-4 * Math.Abs(large[id].Value)) + 1e-5), $"drop {number}: {id}");
            }
        }
    }

    private static DropInput Sample(string name) => name switch
    {
        "light log" => SampleDrops.LightLog,
        "medium log" => SampleDrops.MediumLog,
        "heavy log" => SampleDrops.HeavyLog,
        _ => SampleDrops.Top,
    };

    private static DropInput Exact(DropInput drop) => drop with { Computation = drop.Computation with { RelativeTolerance = 1e-11 } };

    private static DropInput Scaled(DropInput d) => d with
    {
        Piece = d.Piece with
        {
            Mass = d.Piece.Mass * Force,
            Length = d.Piece.Length * S,
            ButtDiameter = d.Piece.ButtDiameter * S,
            TipDiameter = d.Piece.TipDiameter * S,
            CentreOfGravity = d.Piece.CentreOfGravity * S,
            SidewaysOffset = d.Piece.SidewaysOffset * S,
            Inertia = d.Piece.Inertia * Force * S * S,
            HitchHeight = d.Piece.HitchHeight * S,
            BareLength = d.Piece.BareLength * S,
            CrownHalfWidth = d.Piece.CrownHalfWidth * S,
            DragArea = d.Piece.DragArea * S * S,
        },
        Start = d.Start with { HingeStrength = d.Start.HingeStrength * Force, InitialRate = d.Start.InitialRate / Time, PushSpeed = d.Start.PushSpeed * Time },
        Spar = d.Spar with
        {
            Height = d.Spar.Height * S,
            Diameters = [.. d.Spar.Diameters.Select(x => new DiameterAtHeight(x.Height * S, x.Diameter * S))],
            Modulus = d.Spar.Modulus * S,
            RootStiffness = d.Spar.RootStiffness * Force * S,
            MeasuredSwayFrequency = d.Spar.MeasuredSwayFrequency / Time,
            ClimberMass = d.Spar.ClimberMass * Force,
            ClimberBelowCut = d.Spar.ClimberBelowCut * S,
        },
        RiggingPoint = d.RiggingPoint with { BelowCut = d.RiggingPoint.BelowCut * S, StandOff = d.RiggingPoint.StandOff * S },
        Rope = d.Rope with
        {
            Diameter = d.Rope.Diameter * S,
            Stiffness = d.Rope.Stiffness * Force,
            StretchCurve = [.. d.Rope.StretchCurve.Select(p => p with { Tension = p.Tension * Force })],
            RelaxationTime = d.Rope.RelaxationTime * Time,
            ViscousTime = d.Rope.ViscousTime * Time,
            Slack = d.Rope.Slack * S,
            TotalLength = d.Rope.TotalLength * S,
            RopeLeftAtDevice = d.Rope.RopeLeftAtDevice * S,
            HitchTakeUp = Scaled(d.Rope.HitchTakeUp),
            WrapsTakeUp = Scaled(d.Rope.WrapsTakeUp),
        },
        Device = d.Device with { X = d.Device.X * S, Z = d.Device.Z * S },
        Catch = d.Catch with
        {
            LightForce = d.Catch.LightForce * Force,
            GripForce = d.Catch.GripForce * Force,
            Brake = [.. d.Catch.Brake.Select(b => new BrakePoint(b.Run * S, b.Force * Force))],
            BrakeFrom = d.Catch.BrakeFrom * S,
            ForceRate = d.Catch.ForceRate * Force / Time,
            ReactionTime = d.Catch.ReactionTime * Time,
            HangingRopeWeight = d.Catch.HangingRopeWeight * Force,
            SnagAfterRun = d.Catch.SnagAfterRun * S,
            WrapsChangeTime = d.Catch.WrapsChangeTime * Time,
            HandLostTime = d.Catch.HandLostTime * Time,
            GripEarlyTime = d.Catch.GripEarlyTime * Time,
        },
        Site = d.Site with { Obstacles = [.. d.Site.Obstacles.Select(o => o with { XFrom = o.XFrom * S, XTo = o.XTo * S, ZFrom = o.ZFrom * S, ZTo = o.ZTo * S })] },
        Strength = d.Strength with { Rope = d.Strength.Rope * Force },
        Computation = d.Computation with
        {
            EndTime = d.Computation.EndTime * Time,
            ContactStiffness = d.Computation.ContactStiffness * Math.Pow(S, 1.5),
            ContactDamping = d.Computation.ContactDamping / Time,
            ContactStillSpeed = d.Computation.ContactStillSpeed * Time,
        },
    };

    private static TakeUpInput Scaled(TakeUpInput takeUp) => new(takeUp.Length * S, takeUp.ForceFrom * Force, takeUp.ForceTo * Force);
}
