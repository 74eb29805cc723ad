using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Puts parts of a drop together as the simulator does.</summary>
internal static class TestBench
{
    /// <summary>The system of a drop, not begun.</summary>
    public static DropSystem System(DropInput drop) => new(
        drop, new ModalSpar(drop.Spar, drop.Computation.Modes, drop.Computation.Elements, drop.Computation.Gravity));
}
