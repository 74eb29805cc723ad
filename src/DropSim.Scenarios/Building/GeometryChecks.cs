using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>Whether the parts of a case fit together in space.</summary>
internal static class GeometryChecks
{
    /// <summary>Checks a case and returns the lean at which it starts, rad.</summary>
    public static double Check(CaseValues values, DropInput input)
    {
        double lean = StartLean(values, input);
        double ringHeight = input.Spar.Height - input.RiggingPoint.BelowCut;
        if (ringHeight <= 0)
        {
            values.Problem("rigging-point.below-cut", $"a rigging point {CaseValues.Text(-ringHeight, "m")} below the ground",
                $"less than the height of the cut, {CaseValues.Text(input.Spar.Height, "m")}");
        }

        if (input.Device.Z >= ringHeight)
        {
            values.Problem("device.height", $"a device at {CaseValues.Text(input.Device.Z, "m")}, not below the rigging point", $"less than {CaseValues.Text(ringHeight, "m")}");
        }

        double barkX = SparBuilder.DiameterAt(input.Spar, input.Device.Z) / 2;
        if (Math.Abs(input.Device.X) < barkX)
        {
            values.Problem(values.Has("device.x") ? "device.x" : "device.off-face", "a device inside the spar", $"at least {CaseValues.Text(barkX, "m")} from the axis");
        }

        RopeLength(values, input, ringHeight);
        foreach (ObstacleInput obstacle in input.Site.Obstacles)
        {
            if (obstacle.XTo <= obstacle.XFrom || obstacle.ZTo <= obstacle.ZFrom)
            {
                values.Problem("obstacle", $"the obstacle \"{obstacle.Name}\" without size", "x-from < x-to and z-from < z-to");
            }
            else if (Math.Abs(obstacle.XFrom + obstacle.XTo) < obstacle.XTo - obstacle.XFrom && obstacle.ZTo > input.Device.Z)
            {
                values.Warnings.Add($"The obstacle \"{obstacle.Name}\" stands across the spar's axis.");
            }
        }

        return lean;
    }

    private static double StartLean(CaseValues values, DropInput input)
    {
        double radius = SparBuilder.DiameterAt(input.Spar, input.Spar.Height) / 2;
        StartInput start = input.Start;
        double lean = start.Kind == StartKind.PushedOff
            ? start.LeanPastBalance
            : Math.Atan2((radius * (1 - (2 * start.FaceCutDepth))) - input.Piece.SidewaysOffset, input.Piece.CentreOfGravity) + start.LeanPastBalance;
        if (lean >= start.ReleaseAngle)
        {
            values.Problem("start.release-angle",
                $"a hinge that breaks at {CaseValues.Text(Math.Round(start.ReleaseAngle / KeyTable.Degree, 1), "deg")}, before the piece passes its balance",
                $"more than {CaseValues.Text(Math.Round(lean / KeyTable.Degree, 1), "deg")}, the lean just past balance");
        }

        return lean;
    }

    private static void RopeLength(CaseValues values, DropInput input, double ringHeight)
    {
        if (input.Rope.TotalLength is not { } length)
        {
            return;
        }

        double ringX = (SparBuilder.DiameterAt(input.Spar, ringHeight) / 2) + input.RiggingPoint.StandOff;
        double hitchX = input.Piece.ButtDiameter / 2;
        double load = double.Hypot(ringX - hitchX, input.RiggingPoint.BelowCut + input.Piece.HitchHeight);
        double ground = double.Hypot(ringX - input.Device.X, ringHeight - input.Device.Z);
        double wraps = input.Device.Wraps * Math.PI * (input.Device.BollardDiameter ?? 0);
        double path = load + input.Rope.Slack + ground + wraps;
        if (length < path)
        {
            values.Problem("rope.length", $"{CaseValues.Text(length, "m")}, shorter than the path", $"at least {CaseValues.Text(Math.Round(path, 2), "m")} and rope for the hand");
        }
    }
}
