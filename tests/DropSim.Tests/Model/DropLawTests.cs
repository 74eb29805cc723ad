using DropSim.Model;
using MathNet.Numerics.Integration;

namespace DropSim.Tests.Model;

/// <summary>Laws of nature that a whole drop must keep, whatever the numbers.</summary>
public sealed class DropLawTests
{
    private const double G = 9.80665;

    public static TheoryData<string> Samples => ["light log", "medium log", "heavy log", "top"];

    [Fact]
    public void Between_hinge_and_rope_the_centre_of_gravity_falls_freely()
    {
        var run = DropSimulator.Run(SampleDrops.MediumLog.HardStop().WithSpar(s => s with { Rigid = true }).WithRope(r => r with { Slack = 0.8 }));
        var table = run.Traces!.Sample(0.01);
        var (time, z, tension) = (table["time_s"].ToArray(), table["piece_z_m"].ToArray(), table["load_leg_tension_N"].ToArray());
        var free = Enumerable.Range(0, time.Length).Where(i => time[i] >= 0 && time[i] < run[MeasureIds.TimeToTaut].Value - 0.01).ToArray();
        free.Should().HaveCountGreaterThan(20);
        free.Should().OnlyContain(i => tension[i] == 0);

        // z0 + v0 t - g t2 / 2 through the first, the middle and the last point: second differences of an even grid are -g dt2.
        for (var k = 2; k + 1 < free.Length; k++)
        {
            var i = free[k];
            if (Math.Abs(time[i + 1] - (2 * time[i]) + time[i - 1]) < 1e-12)
            {
                (z[i + 1] - (2 * z[i]) + z[i - 1]).Should().BeApproximately(-G * 0.01 * 0.01, 1e-9);
            }
        }
    }

    [Fact]
    public void On_its_hinge_the_piece_tips_in_the_time_of_a_physical_pendulum()
    {
        var drop = SampleDrops.MediumLog.WithSpar(s => s with { Rigid = true });
        var body = new PieceBody(drop);
        var run = DropSimulator.Run(drop);

        // Energy about the hinge: I_h w2 / 2 = I_h w0^2 / 2 + m g (h0 - h), h = R cos(phi - phi_bal), R from hinge to centre of gravity.
        var r = double.Hypot(body.Hinge.Xi, body.Hinge.Eta);
        var inertia = body.Inertia + (body.Mass * r * r);
        var (lean0, rate0) = (drop.Start.LeanPastBalance, drop.Start.InitialRate);
        double Rate(double lean) => Math.Sqrt((rate0 * rate0) + (2 * body.Mass * G * r * (Math.Cos(lean0) - Math.Cos(lean)) / inertia));
        var time = DoubleExponentialTransformation.Integrate(lean => 1 / Rate(lean), lean0, drop.Start.ReleaseAngle - body.BalanceLean, 1e-10);

        // The engine's tolerance of 1e-6 over a tip of more than a second.
        run.HingeBreakTime.Should().BeApproximately(time, 1e-5);
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void Rope_that_runs_loads_the_rigging_point_less_than_rope_locked_off(string name)
    {
        var letRun = DropSimulator.Run(Sample(name));
        var hardStop = DropSimulator.Run(Sample(name).HardStop());

        letRun[MeasureIds.RiggingPointForce].Value.Should().BeLessThan(hardStop[MeasureIds.RiggingPointForce].Value);
        letRun[MeasureIds.LoadLegTension].Value.Should().BeLessThan(hardStop[MeasureIds.LoadLegTension].Value);
    }

    [Fact]
    public void The_rigging_point_feels_the_vector_sum_of_both_legs()
    {
        var run = DropSimulator.Run(SampleDrops.MediumLog.HardStop());
        var scene = run.Traces!.SceneAt(run[MeasureIds.TimeToPeak].Value);
        static (double X, double Z) Unit(PlanePoint from, PlanePoint to)
        {
            var d = double.Hypot(to.X - from.X, to.Z - from.Z);
            return ((to.X - from.X) / d, (to.Z - from.Z) / d);
        }

        var u1 = Unit(scene.RiggingPoint, scene.Hitch);
        var u2 = Unit(scene.RiggingPoint, scene.Device);

        // 20 kN, and a direction that may be kept from 0/0 at the ring by a length of a tenth of a millimetre: 1e-8 of it.
        scene.RiggingForceX.Should().BeApproximately((scene.LoadLegTension * u1.X) + (scene.GroundLegTension * u2.X), 2e-4);
        scene.RiggingForceZ.Should().BeApproximately((scene.LoadLegTension * u1.Z) + (scene.GroundLegTension * u2.Z), 2e-4);
    }

    [Fact]
    public void A_ring_without_friction_and_a_block_without_loss_are_the_same()
    {
        var ring = DropSimulator.Run(SampleDrops.MediumLog.WithRiggingPoint(r => r with { Friction = 0 }));
        var block = DropSimulator.Run(SampleDrops.MediumLog.WithRiggingPoint(r => r with { Kind = RiggingPointKind.Block, Efficiency = 1 }));

        block.Measures.Select(m => m.Value).Should().Equal(ring.Measures.Select(m => m.Value));
    }

    [Fact]
    public void The_same_drop_gives_the_same_bits_from_every_thread()
    {
        static double[] Values() => [.. DropSimulator.Run(SampleDrops.MediumLog).Measures.Select(m => m.Value)];
        var first = Values();
        var others = new double[4][];
        Parallel.For(0, 4, i => others[i] = Values());

        others.Should().AllSatisfy(o => o.Should().Equal(first));
    }

    private static DropInput Sample(string name) => name switch
    {
        "light log" => SampleDrops.LightLog,
        "medium log" => SampleDrops.MediumLog,
        "heavy log" => SampleDrops.HeavyLog,
        _ => SampleDrops.Top,
    };
}
