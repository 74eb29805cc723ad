using System.Runtime.CompilerServices;
using DropSim.Integration;

namespace DropSim.Model;

/// <content>The rope: stretch of the legs, wrap angle and ratio at the rigging point, capacities, and what the friction network makes of them.</content>
internal sealed partial class DropSystem
{
    /// <summary>
    /// With <paramref name="justRates"/> the limits of what sticks or holds are left out: its tensions do not hang on them.
    /// </summary>
    private void Rope(double time, ReadOnlySpan<double> y, ref Instant at, bool justRates = false)
    {
        var phase = _phase;
        ref readonly var network = ref phase.NetworkNow;
        var limits = !justRates || phase.Phaseless;
        var pulls = network.LoadTaut && network.GroundTaut;
        var (d1, d2) = (at.D1, at.D2);
        var perL1 = 1 / y[StateLayout.LoadLength];
        var perL2 = 1 / y[StateLayout.GroundLength];
        var e1 = (d1 * perL1) - 1;
        var e2 = (d2 * perL2) - 1;
        at.PerL1 = perL1;
        at.PerL2 = perL2;
        at.E1 = e1;
        at.E2 = e2;

        ref var numbers = ref at.Numbers;
        if (limits || (pulls && network.Ring != RingState.Stick))
        {
            BendOverRiggingPoint(ref at);
        }

        var lasting1 = _curve.Tension(e1);
        var lasting2 = _curve.Tension(e2);
        at.Lasting1 = lasting1;
        at.Lasting2 = lasting2;
        numbers.A1 = lasting1 + (_relaxing * (e1 - y[StateLayout.LoadRelaxed])) + (_viscous * at.D1Rate * perL1);
        numbers.B1 = _viscous * d1 * perL1 * perL1;
        numbers.A2 = lasting2 + (_relaxing * (e2 - y[StateLayout.GroundRelaxed])) + (_viscous * at.D2Rate * perL2);
        numbers.B2 = _viscous * d2 * perL2 * perL2;
        at.WrapsGive = phase.WrapsGive;
        if (limits || network.DeviceGives)
        {
            DeviceLimit(time, y, ref at);
        }

        if (limits || network.HitchDraws)
        {
            numbers.HitchCapacity = phase.HitchSpent ? double.PositiveInfinity : _hitch.Force(y[StateLayout.HitchTaken]);
            numbers.HitchSlope = _hitch.Slope;
        }

        at.Branch = network;
        if (phase.Phaseless || !pulls)
        {
            FindFreeStrains(y, ref at);
        }

        if (phase.Phaseless)
        {
            at.Branch = ChooseBranch(ref at, null);
        }

        at.Flow = FrictionNetwork.Flow(at.Branch, at.Numbers);
    }

    /// <summary>Angle between the legs, and the ratio of tensions at which rope slips there.</summary>
    private void BendOverRiggingPoint(ref Instant at)
    {
        // Angle from ground leg to load leg, counter-clockwise: pi where they lie in one line, 0 when both hang down, negative when
        // they cross. From the legs as they lie, not from their directions: those are known only after a root and a division.
        var angle = Elementary.Atan2(
            (at.ToDeviceX * at.FromRingZ) - (at.ToDeviceZ * at.FromRingX), (at.ToDeviceX * at.FromRingX) + (at.ToDeviceZ * at.FromRingZ));
        if (at.FromRingZ >= 0)
        {
            angle = OnItsTurn(angle, at);
        }

        at.LegAngle = angle;
        var wrap = _phase.WrapSign * (Math.PI - angle);
        at.Wrap = wrap;
        (at.Numbers.Rho, at.Numbers.RhoRate) = Ratio(wrap, -_phase.WrapSign * at.LegAngleRate, ref at);
    }

    /// <summary>
    /// The legs' own directions say which turn the angle between them is on, so that it stays continuous wherever the device stands.
    /// With both legs pointing down they are less than half a turn apart: there is only one turn to be on.
    /// </summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static double OnItsTurn(double angle, in Instant at)
    {
        var turned = DirectionOfLoadLeg(at.FromRingX, at.FromRingZ) - Elementary.Atan2(at.ToDeviceZ, at.ToDeviceX);
        return angle + (2 * Math.PI * Math.Round((turned - angle) / (2 * Math.PI)));
    }

    /// <summary>The tension at which the device gives rope: the smaller of what the hand holds and what its tightening wraps hold.</summary>
    private void DeviceLimit(double time, ReadOnlySpan<double> y, ref Instant at)
    {
        var phase = _phase;
        ref var numbers = ref at.Numbers;
        var handForce = _hand.Force(phase.HandNow, time, y[StateLayout.RopeRun]);
        at.HandForce = handForce;
        var handCapacity = phase.Locked ? double.PositiveInfinity : phase.DeviceRatio * handForce;
        var wrapsCapacity = phase.WrapsSpent ? double.PositiveInfinity : _wraps.Force(y[StateLayout.WrapsTaken]);
        at.DeviceRatio = phase.DeviceRatio;
        at.HandCapacity = handCapacity;
        at.WrapsCapacity = wrapsCapacity;
        var wrapsWeaker = wrapsCapacity < handCapacity;
        if (phase.Phaseless)
        {
            at.WrapsGive = wrapsWeaker;
        }

        var wrapsLimit = phase.NetworkNow.DeviceGives && !phase.Phaseless ? phase.WrapsGive : wrapsWeaker;
        numbers.DeviceCapacity = wrapsLimit ? wrapsCapacity : handCapacity;
        numbers.DeviceSlope = wrapsLimit ? _wraps.Slope : phase.DeviceRatio * _hand.Slope(phase.HandNow);
        numbers.DeviceRate = wrapsLimit ? 0 : phase.DeviceRatio * _hand.Rate(phase.HandNow);
    }

    /// <summary>Stretches at which the legs would pull nothing; needed only where one is, or may become, slack.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void FindFreeStrains(ReadOnlySpan<double> y, ref Instant at)
    {
        at.Free1 = _curve.FreeStrain(_relaxing, y[StateLayout.LoadRelaxed]);
        at.Free2 = _curve.FreeStrain(_relaxing, y[StateLayout.GroundRelaxed]);
    }

    /// <summary>
    /// The load leg's direction is followed from -210 to 150 degrees from the horizontal toward the fall: the hitch starts above the
    /// rigging point and falls on the fall side; a piece that swings farther round has wrapped the spar. The ground leg points down,
    /// from -180 to 0 degrees, since the device stands below the rigging point.
    /// </summary>
    private const double LoadLegCut = 150 * Math.PI / 180;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double DirectionOfLoadLeg(double x, double z)
    {
        var direction = Elementary.Atan2(z, x);
        return direction > LoadLegCut ? direction - (2 * Math.PI) : direction;
    }

    /// <summary>Ratio of tensions at which rope slips over the rigging point, and how fast it changes as the legs turn, 1/s.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private (double Ratio, double Rate) Ratio(double wrap, double wrapRate, ref Instant at)
    {
        var sliding = Elementary.Exp(_friction * wrap);
        at.RhoSliding = sliding;
        at.RhoBearing = sliding;
        if (_frictionless)
        {
            return (1, 0);
        }

        if (!_isBlock)
        {
            return (sliding, wrapRate * _friction * sliding);
        }

        var (sin, cos) = Elementary.SinCos(wrap / 2);
        var bearing = 1 + (_bearing * sin);
        at.RhoBearing = bearing;
        var turns = _phase.Phaseless ? bearing < sliding : _phase.BearingTurns;
        return turns ? (bearing, wrapRate * _bearing * cos / 2) : (sliding, wrapRate * _friction * sliding);
    }
}
