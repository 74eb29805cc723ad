namespace DropSim.Model;

/// <summary>The input is outside what can be computed.</summary>
public sealed class DropInputException : Exception
{
    /// <summary>With a message for people.</summary>
    /// <param name="message">Message.</param>
    public DropInputException(string message)
        : base(message)
    {
    }

    /// <summary>With a message for people and a cause.</summary>
    /// <param name="message">Message.</param>
    /// <param name="innerException">Cause.</param>
    public DropInputException(string message, Exception innerException)
        : base(message, innerException)
    {
    }

    /// <summary>Without a message.</summary>
    public DropInputException()
    {
    }
}

/// <summary>What a drop must satisfy to be computed at all; the last line of defence behind the scenario reader's own checks.</summary>
public static class DropCheck
{
    /// <summary>Refuses a drop that cannot be computed.</summary>
    /// <param name="input">The drop.</param>
    /// <exception cref="DropInputException">Says everything that is wrong.</exception>
    public static void ThrowIfInvalid(DropInput input)
    {
        var problems = Problems(input);
        if (problems.Count > 0)
        {
            throw new DropInputException(string.Join(Environment.NewLine, problems));
        }
    }

    /// <summary>Everything that is wrong with a drop; empty where it can be computed.</summary>
    /// <param name="input">The drop.</param>
    public static IReadOnlyList<string> Problems(DropInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var problems = new List<string>();

        void Need(bool holds, string message)
        {
            if (!holds)
            {
                problems.Add(message);
            }
        }

        static bool Positive(double x) => x > 0 && double.IsFinite(x);

        var p = input.Piece;
        Need(Positive(p.Mass), "The piece's mass must be positive.");
        Need(Positive(p.Inertia), "The piece's moment of inertia must be positive.");
        Need(Positive(p.Length) && Positive(p.ButtDiameter) && p.TipDiameter >= 0, "The piece's length and diameters must be positive.");
        Need(p.CentreOfGravity > 0 && p.CentreOfGravity < p.Length, "The piece's centre of gravity must lie between its ends.");
        Need(p.HitchHeight > 0 && p.HitchHeight <= p.Length, "The hitch must be on the piece.");
        Need(Math.Abs(p.SidewaysOffset) < p.ButtDiameter, "The centre of gravity's sideways offset must be smaller than the diameter.");
        Need(p.BareLength > 0 && p.CrownHalfWidth >= 0 && p.DragArea >= 0, "Bare length must be positive, crown width and drag area not negative.");

        var s = input.Spar;
        Need(Positive(s.Height), "The spar's height must be positive.");
        Need(s.Diameters.Count >= 2 && s.Diameters.All(d => Positive(d.Diameter)), "The spar needs at least two positive diameters.");
        for (var i = 1; i < s.Diameters.Count; i++)
        {
            Need(s.Diameters[i].Height > s.Diameters[i - 1].Height, "The spar's diameters must be given in order of height.");
        }

        Need(Positive(s.Density) && Positive(s.Modulus), "The spar's density and modulus must be positive.");
        Need(s.RootStiffness > 0, "The root's stiffness must be positive (infinite for rigid).");
        Need(s.DampingRatio is >= 0 and < 0.5, "The spar's damping ratio must be between 0 and 0.5.");
        Need(s.ClimberMass >= 0 && s.ClimberBelowCut >= 0, "The climber's mass and distance below the cut must not be negative.");

        var r = input.RiggingPoint;
        Need(r.BelowCut > 0 && r.BelowCut < s.Height, "The rigging point must be below the cut and above the ground.");
        Need(r.StandOff >= 0, "The rigging point's stand-off must not be negative.");
        Need(r.Friction is >= 0 and <= 2, "The rigging point's friction must be between 0 and 2.");
        Need(r.Efficiency is > 0 and <= 1, "A block's efficiency must be above 0 and at most 1.");

        var rope = input.Rope;
        Need(Positive(rope.Stiffness), "The rope's stiffness must be positive.");
        Need(rope.RelaxingStiffnessRatio >= 0 && Positive(rope.RelaxationTime), "The rope's relaxing branch must not be negative, its time positive.");
        Need(rope.ViscousTime is > 0 and <= 0.003, "The rope's viscous time must be above 0 and at most 3 ms.");
        Need(rope.Slack >= 0, "Slack must not be negative.");
        foreach (var t in new[] { rope.HitchTakeUp, rope.WrapsTakeUp })
        {
            Need(t.Length == 0 || (t.Length > 0 && t.ForceFrom > 0 && t.ForceTo >= t.ForceFrom), "A take-up needs a length, a positive starting force and an end force not below it.");
        }

        Need(input.Device.Wraps is >= 0 and <= 20, "Wraps must be between 0 and 20.");
        Need(input.Device.Friction is >= 0 and <= 2, "The device's friction must be between 0 and 2.");
        Need(input.Device.Z >= 0 && input.Device.Z < s.Height - r.BelowCut, "The device must be below the rigging point.");

        var k = input.Computation;
        Need(Positive(k.ContactStiffness) && k.ContactDamping >= 0 && k.ContactFriction is >= 0 and <= 2 && Positive(k.ContactStillSpeed), "Contact stiffness must be positive, its damping not negative, its friction between 0 and 2.");

        var c = input.Catch;
        Need(c.HangingRopeWeight > 0, "The hanging rope's weight must be positive.");
        Need(c.LightForce >= 0 && c.GripForce > 0 && c.ForceRate > 0 && c.ReactionTime >= 0, "Hand forces and times must not be negative.");
        Need(c.Brake.Count > 0 && c.Brake.Zip(c.Brake.Skip(1)).All(x => x.Second.Run > x.First.Run), "The braking plan needs points in order of rope run.");

        if (problems.Count == 0)
        {
            var body = new PieceBody(input);
            Need(input.Start.FaceCutDepth is >= 0 and <= 0.5, "A face cut deeper than half the diameter is not computed.");
            Need(input.Start.Kind == StartKind.PushedOff || body.BalanceLean + input.Start.LeanPastBalance < input.Start.ReleaseAngle, "The face cut closes before the piece passes its balance.");
            Need(input.Start.Kind == StartKind.FaceCut || input.Start.LeanPastBalance < input.Start.ReleaseAngle, "The piece would leave the edge before it moves.");
            Need(input.Computation.Modes is >= 0 and <= StateLayout.MostModes && input.Computation.Elements is >= 4 and <= 200, "Modes must be 0 to 8, elements 4 to 200.");
            Need(Positive(input.Computation.EndTime) && input.Computation.EndTime <= 600, "The end time must be above 0 and at most 600 s.");
            Curve(input, problems);
        }

        return problems;
    }

    private static void Curve(DropInput input, List<string> problems)
    {
        try
        {
            var curve = new RopeCurve(input.Rope.Stiffness, input.Rope.StretchCurve);
            if (problems.Count == 0 && StepNeed.OfRope(input, curve) is { } problem)
            {
                problems.Add(problem);
            }
        }
        catch (ArgumentException refused)
        {
            problems.Add(refused.Message);
        }
    }
}
