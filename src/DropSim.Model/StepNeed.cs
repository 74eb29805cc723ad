namespace DropSim.Model;

/// <summary>
/// How many steps a drop needs at least, from what is fastest in it. The method is explicit: a step may not be longer than a few times the
/// shortest time constant, however smooth the motion is (docs/numerics.md, stiffness). Inputs that need more than a run may have are
/// refused with what makes them so, before anything is computed.
/// </summary>
internal static class StepNeed
{
    /// <summary>Most steps that a drop may need: half of what a run may have (<see cref="DropSimulator"/>), since events and accuracy take steps too.</summary>
    internal const double Most = 250_000;

    /// <summary>Verner's pair is stable to here on the negative real axis (measured; docs/numerics.md).</summary>
    private const double StabilityBound = 4.64;

    /// <summary>What is wrong with a drop's rope and piece; null where they can be computed in the steps of a run.</summary>
    /// <param name="input">The drop, otherwise valid.</param>
    /// <param name="curve">Its rope's curve.</param>
    internal static string? OfRope(DropInput input, RopeCurve curve)
    {
        var (rope, piece) = (input.Rope, input.Piece);

        // While rope slips, the difference of the legs' pulls dies away with C / (S' + E_m) (theory/rope.md).
        var viscous = rope.Stiffness * rope.ViscousTime;
        var slip = (curve.SteepestSlope + (rope.RelaxingStiffnessRatio * rope.Stiffness)) / viscous;
        if (Steps(slip, input) > Most)
        {
            return FormattableString.Invariant(
                $"The steepest part of the rope's stretch, {curve.SteepestSlope / 1000:G3} kN per unit strain, would need about {Steps(slip, input):G2} steps with a viscous time of {rope.ViscousTime * 1000:G3} ms: give a longer viscous time or a shorter end time, or look for a typing error in the stretch.");
        }

        // A taut leg's damping and spring act on the piece at the hitch, which a light end of the piece gives way to.
        var arm = double.Hypot(piece.HitchHeight - piece.CentreOfGravity, (piece.ButtDiameter / 2) - piece.SidewaysOffset);
        var yielding = (1 / piece.Mass) + (arm * arm / piece.Inertia);
        var length = input.RiggingPoint.BelowCut + piece.HitchHeight + rope.Slack;
        var piecePull = Math.Max(viscous * yielding / length, Math.Sqrt((curve.SteepestSlope + (rope.RelaxingStiffnessRatio * rope.Stiffness)) * yielding / length));
        return Steps(piecePull, input) > Most
            ? FormattableString.Invariant(
                $"A piece of {piece.Mass:G3} kg with a moment of inertia of {piece.Inertia:G3} kg m2 on a rope of {rope.Stiffness / 1000:G4} kN would need about {Steps(piecePull, input):G2} steps: give a softer rope, a shorter viscous or end time, or look for a typing error in mass, inertia or stiffness.")
            : null;
    }

    /// <summary>What is wrong with the modes kept; null where they can be computed in the steps of a run.</summary>
    /// <param name="input">The drop, otherwise valid.</param>
    /// <param name="spar">Its spar.</param>
    internal static string? OfModes(DropInput input, ModalSpar spar)
    {
        var fastest = spar.ModeCount == 0 ? 0 : spar.AngularFrequencies[^1];
        if (Steps(fastest, input) > Most)
        {
            return FormattableString.Invariant(
                $"The highest mode kept of the spar sways at {fastest / (2 * Math.PI):G3} Hz and would need about {Steps(fastest, input):G2} steps: keep fewer modes or give a shorter end time.");
        }

        // The damping of a leg at the rigging point acts on what the modes kept give way by there.
        Span<double> deflection = stackalloc double[ModalSpar.MaximumModes];
        Span<double> slope = stackalloc double[ModalSpar.MaximumModes];
        spar.ShapeAt(spar.Height - input.RiggingPoint.BelowCut, deflection, slope);
        double yielding = 0;
        for (var i = 0; i < spar.ModeCount; i++)
        {
            yielding += deflection[i] * deflection[i];
        }

        var length = input.RiggingPoint.BelowCut + input.Piece.HitchHeight + input.Rope.Slack;
        var pull = input.Rope.Stiffness * input.Rope.ViscousTime * yielding / length;
        return Steps(pull, input) > Most
            ? FormattableString.Invariant(
                $"The spar at the rigging point gives way so easily against the rope's viscous time that it would need about {Steps(pull, input):G2} steps: give a shorter viscous or end time, or fewer modes.")
            : null;
    }

    private static double Steps(double rate, DropInput input) => rate * input.Computation.EndTime / StabilityBound;
}
