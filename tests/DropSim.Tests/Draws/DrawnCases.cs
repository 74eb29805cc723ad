using DropSim.Model;
using DropSim.Studies.Draws;
using DropSim.Tests.Model;

namespace DropSim.Tests.Draws;

/// <summary>Cases with some uncertain inputs, and scenarios whose drops are written down by hand.</summary>
internal static class DrawnCases
{
    public static DrawPlan Plan(int count, int threads = 1) => new(7) { Count = count, Threads = threads };

    /// <summary>The medium log locked off, with mass, slack and friction at the ring unknown.</summary>
    public static DropCase MediumLog(string setup)
    {
        var drop = SampleDrops.MediumLog.HardStop() with { Computation = SampleDrops.MediumLog.Computation with { EndTime = 2.5 } };
        return new(setup, "hard-stop", drop, [], [], [])
        {
            Uncertain =
            [
                Input("piece.mass", drop.Piece.Mass, 0.85, 1.15, static (d, v) => d with { Piece = d.Piece with { Mass = v, Inertia = d.Piece.Inertia * v / d.Piece.Mass } }),
                Input("rope.slack", drop.Rope.Slack, 0.1, 2, static (d, v) => d.WithRope(r => r with { Slack = v })),
                Input("rigging-point.friction", drop.RiggingPoint.Friction, 0.5, 1.5, static (d, v) => d.WithRiggingPoint(r => r with { Friction = v })),
            ],
        };
    }

    public static UncertainInput Input(string key, double central, double low, double high, Func<DropInput, double, DropInput> set) => new(
        key, new InputRange(key, "", central, low * central, high * central, "invented", set) { Key = key },
        new InputDistribution(DistributionKind.Triangular, low * central, central, high * central), false);

    /// <summary>A scenario of two cases whose drops are known.</summary>
    public static DrawnScenario Of(DrawnDrop[] first, DrawnDrop[] second)
    {
        var one = MediumLog("first");
        return new(Plan(first.Length), [new(one, first, [0, 7, 2]), new(one with { Setup = "second" }, second, [0, 7, 2])]);
    }
}
