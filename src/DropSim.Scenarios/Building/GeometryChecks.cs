using DropSim.Integration;
using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>Whether the parts of a case fit together in space.</summary>
internal static class GeometryChecks
{
    /// <summary>Damping ratio from which the model does not compute a stem.</summary>
    private const double LargestDamping = 0.5;

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

        if (input.RiggingPoint.BelowCut <= 0)
        {
            values.Problem("rigging-point.below-cut", "a rigging point at the height of the cut", "more than 0 m");
        }

        if (Math.Abs(input.Piece.SidewaysOffset) >= input.Piece.ButtDiameter)
        {
            values.Problem("piece.sideways-offset", CaseValues.Text(input.Piece.SidewaysOffset, "m"), $"less than the diameter at the cut, {CaseValues.Text(input.Piece.ButtDiameter, "m")}");
        }

        if (input.Spar.DampingRatio >= LargestDamping)
        {
            values.Problem("spar.damping", CaseValues.Text(input.Spar.DampingRatio, ""), $"less than {CaseValues.Text(LargestDamping, "")}: a stem sways");
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
            if (CoversPiece(obstacle, input))
            {
                values.Problem("obstacle", $"the obstacle \"{obstacle.Name}\" where the piece stands before it falls", "an obstacle beside or below the piece");
            }
            else if (Math.Abs(obstacle.XFrom + obstacle.XTo) < obstacle.XTo - obstacle.XFrom && obstacle.ZTo > input.Device.Z)
            {
                values.Remarks.Add(new Remark($"The obstacle \"{obstacle.Name}\" stands across the spar's axis."));
            }
        }

        return lean;
    }

    /// <summary>True where the upright stem of the piece and an obstacle overlap.</summary>
    private static bool CoversPiece(ObstacleInput obstacle, DropInput input)
    {
        PieceInput piece = input.Piece;
        double from = Math.Max(0, obstacle.ZFrom - input.Spar.Height);
        double to = Math.Min(piece.Length, obstacle.ZTo - input.Spar.Height);
        double Radius(double height) => (piece.ButtDiameter + ((piece.TipDiameter - piece.ButtDiameter) * height / piece.Length)) / 2;
        double radius = Math.Max(Radius(from), Radius(to));
        return from < to && obstacle.XFrom < radius && obstacle.XTo > -radius;
    }

    private static double StartLean(CaseValues values, DropInput input)
    {
        double radius = input.Piece.ButtDiameter / 2;
        StartInput start = input.Start;
        double lean = start.Kind == StartKind.PushedOff
            ? start.LeanPastBalance
            : Elementary.Atan2((radius * (1 - (2 * start.FaceCutDepth))) - input.Piece.SidewaysOffset, input.Piece.CentreOfGravity) + start.LeanPastBalance;
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
