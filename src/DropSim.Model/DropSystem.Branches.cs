namespace DropSim.Model;

/// <content>Which branch of the friction network holds.</content>
internal sealed partial class DropSystem
{
    /// <summary>Nearer to its free stretch than this a leg is tried both taut and slack.</summary>
    private const double BorderStrain = 1e-9;

    /// <summary>Part of a force by which two limits are told apart: above round-off, far below anything that shows.</summary>
    private const double BarelyParted = 1e-12;

    /// <summary>Chooses the branch of the network that holds from here on.</summary>
    private void Resolve(double time, Span<double> state, NetworkBranch? avoid)
    {
        var before = _phase.Network;
        Instant at = default;
        Place(state, ref at);

        // The capacity the network sees must be the smaller of wraps and hand, whatever gave rope before.
        _phase.Network = before with { DeviceGives = false };
        Rope(time, state, ref at);
        FindFreeStrains(state, ref at);
        var chosen = ChooseBranch(ref at, avoid);
        BookJump(state, ref at, before, chosen);
        Part(state, ref at, chosen);
        _phase.Network = chosen;
        _phase.WrapsGive = chosen.DeviceGives && at.WrapsCapacity < at.HandCapacity;
        if (chosen.LoadTaut && chosen.GroundTaut && _input.Catch.Cue == Cue.LoadLegTaut && !_phase.Hinged)
        {
            CueSeen(time);
        }

        if (chosen.DeviceGives && !_phase.WrapsGive)
        {
            // Rope that runs pulls its own wraps snug: they have nothing left to give.
            _phase.WrapsSpent = true;
            if (_input.Catch.Cue == Cue.DeviceRuns)
            {
                CueSeen(time);
            }
        }
    }

    /// <summary>
    /// Where both ends gave and one goes on alone, or the rope sticks between them, their limits still tie, to some micronewtons of either
    /// sign. Whatever stops must not be found beyond its limit, or the two would change about for ever: the knot is tightened by what
    /// that takes (less than a nanometre).
    /// </summary>
    private void Part(Span<double> state, ref Instant at, in NetworkBranch chosen)
    {
        var slope = _hitch.Slope;
        if (!(chosen.HitchDraws || chosen.DeviceGives) || _phase.HitchSpent || !(slope > 0))
        {
            return;
        }

        var sticks = chosen.Ring == RingState.Stick;
        if (chosen.HitchDraws && chosen.DeviceGives ? !sticks : sticks)
        {
            return;
        }

        var ring = sticks ? FrictionNetwork.Tie(RingState.Out, at.Numbers, _weight) ? RingState.Out : RingState.Back : chosen.Ring;
        if (!FrictionNetwork.Tie(ring, at.Numbers, _weight))
        {
            return;
        }

        // Device alone: T1 = ratio x capacity stays below the hitch's limit. Hitch alone: the other way about. Stuck: T1 within its bounds.
        var above = sticks ? ring == RingState.Back : chosen.DeviceGives;
        var level = FrictionNetwork.Ratio(ring, at.Numbers) * at.Numbers.DeviceCapacity;
        var missing = level - at.Numbers.HitchCapacity + ((above ? 1 : -1) * BarelyParted * level);
        if (above ? missing > 0 : missing < 0)
        {
            state[StateLayout.HitchTaken] += missing / slope;
        }
    }

    private NetworkBranch ChooseBranch(ref Instant at, NetworkBranch? avoid)
    {
        var scale = _input.Rope.Stiffness;
        var best = default(NetworkBranch);
        var least = double.PositiveInfinity;

        // Both taut first: a leg met exactly straight may be called slack or taut, and as a slack one it would be taut at once.
        for (var turn = 0; turn < 4; turn++)
        {
            var combination = (turn + 3) % 4;
            var taut1 = (combination & 1) != 0;
            var taut2 = (combination & 2) != 0;
            if ((taut1 && at.E1 < at.Free1 - BorderStrain) || (taut2 && at.E2 < at.Free2 - BorderStrain))
            {
                continue;
            }

            var branch = FrictionNetwork.Choose(taut1, taut2, at.Numbers, _weight, avoid, out var violation);
            if (_frictionless && branch.LoadTaut && branch.GroundTaut)
            {
                branch = branch with { Ring = RingState.Out };
                branch = Frictionless(branch, ref at, avoid, out violation);
            }

            var flow = FrictionNetwork.Flow(branch, at.Numbers);
            violation += SlackViolation(taut1, at.E1 - at.Free1, at.Numbers.A1 - (at.Numbers.B1 * (flow.Slip + flow.Hitch)), scale)
                + SlackViolation(taut2, at.E2 - at.Free2 - (taut1 ? 0 : IdleStretch), at.Numbers.A2 + (at.Numbers.B2 * (flow.Slip - flow.Device)), scale);
            if (violation < least)
            {
                least = violation;
                best = branch;
            }
        }

        return best;
    }

    /// <summary>A slack leg that is straight and would pull is not slack.</summary>
    private double SlackViolation(bool taut, double stretch, double pull, double scale) =>
        taut ? 0 : Math.Max(0, Math.Min(stretch * scale, pull)) / _weight;

    /// <summary>Without friction rope passes the rigging point either way in one branch.</summary>
    private NetworkBranch Frictionless(NetworkBranch branch, ref Instant at, NetworkBranch? avoid, out double violation)
    {
        violation = double.PositiveInfinity;
        var best = branch;
        for (var code = 0; code < 4; code++)
        {
            var candidate = branch with { HitchDraws = (code & 1) != 0, DeviceGives = (code & 2) != 0 };
            if ((candidate.HitchDraws && _phase.HitchSpent) || (candidate.DeviceGives && double.IsPositiveInfinity(at.Numbers.DeviceCapacity)))
            {
                continue;
            }

            var flow = FrictionNetwork.Flow(candidate, at.Numbers);
            var v = FrictionNetwork.Violation(candidate, at.Numbers, flow with { Slip = 0 }, _weight) + FrictionNetwork.Penalty(candidate, avoid)
                + FrictionNetwork.Penalty(candidate, at.Numbers, _weight);
            if (v < violation || (code == 3 && v < FrictionNetwork.BothWidth))
            {
                violation = v;
                best = candidate;
            }
        }

        return best;
    }

    /// <summary>A leg whose material relaxes at once (or is found stretched) at a change between slack and taut: booked to the rope's damping.</summary>
    private void BookJump(Span<double> state, ref Instant at, NetworkBranch before, NetworkBranch after)
    {
        if (before.LoadTaut != after.LoadTaut)
        {
            var jump = state[StateLayout.LoadLength] * (Stored(at.E1, state[StateLayout.LoadRelaxed]) - Stored(at.Free1, state[StateLayout.LoadRelaxed]));
            state[StateLayout.LostRope] += before.LoadTaut ? jump : -jump;
        }

        if (before.GroundTaut != after.GroundTaut)
        {
            var jump = state[StateLayout.GroundLength] * (Stored(at.E2, state[StateLayout.GroundRelaxed]) - Stored(at.Free2, state[StateLayout.GroundRelaxed]));
            state[StateLayout.LostRope] += before.GroundTaut ? jump : -jump;
        }
    }

    private NetworkBranch BranchNow(double time, ReadOnlySpan<double> state)
    {
        Instant at = default;
        Place(state, ref at);
        Rope(time, state, ref at);
        return at.Branch;
    }

    /// <summary>Energy stored per metre of rope, J/m.</summary>
    private double Stored(double strain, double relaxed) =>
        _curve.Energy(strain) + (_relaxing * (strain - relaxed) * (strain - relaxed) / 2);
}
