using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Short drops that between them use every part of the model, for tests that hold for any drop.</summary>
internal static class VariedDrops
{
    public static DropInput Named(string name)
    {
        var log = SampleDrops.MediumLog;
        var drop = name switch
        {
            "let run" => log,
            "locked off, take-ups" => log.HardStop().WithRope(r => r with { HitchTakeUp = new(0.06, 200, 3_000), WrapsTakeUp = new(0.05, 100, 2_000), MassPerLength = 0.12 }) with
            {
                Piece = log.Piece with { SidewaysOffset = 0.02 },
                Device = log.Device with { BollardDiameter = 0.2 },
            },
            "held, then lost" => log with
            {
                Catch = log.Catch with { Kind = CatchKind.Held, HandLostTime = 1.1 },
                Device = log.Device with { X = 3, Z = 0.5, OnSpar = false },
                Site = new() { Obstacles = [new("shed", 6, 8, 0, 2), new("fence", 2, 2.1, 0, 1.2)] },
            },
            "top over a block, snagged" => SampleDrops.Top with
            {
                Piece = SampleDrops.Top.Piece with { DragArea = 4 },
                RiggingPoint = SampleDrops.Top.RiggingPoint with { Kind = RiggingPointKind.Block },
                Catch = log.Catch with { SnagAfterRun = 0.6, Cue = Cue.LoadLegTaut, ReactionTime = 0.2 },
            },
            _ => throw new ArgumentOutOfRangeException(nameof(name), name, "No such drop."),
        };
        return drop with { Computation = drop.Computation with { EndTime = 3 } };
    }
}
