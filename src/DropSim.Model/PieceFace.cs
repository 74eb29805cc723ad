namespace DropSim.Model;

/// <summary>
/// A straight face of the piece that the spar's edge can meet. A point (xi, eta) of the piece's own axes is delta = n . (point - foot) deep
/// in it and s = t . (point - foot) along it (docs/theory/contact.md, eq. 3).
/// </summary>
/// <param name="Foot">Where it begins.</param>
/// <param name="End">Where it ends; the same place along the direction <paramref name="AlongXi"/>, <paramref name="AlongEta"/> is measured.</param>
/// <param name="InXi">n along the axis: into the piece.</param>
/// <param name="InEta">n across the axis.</param>
/// <param name="AlongXi">t along the axis.</param>
/// <param name="AlongEta">t across the axis.</param>
/// <param name="Name">What meets.</param>
internal readonly record struct PieceFace(
    BodyPoint Foot, BodyPoint End, double InXi, double InEta, double AlongXi, double AlongEta, string Name)
{
    /// <summary>The front flank from the mouth of the face cut to the tip; depth across the axis.</summary>
    public static PieceFace Flank(BodyPoint mouth, BodyPoint end) => new(
        mouth, end, (end.Eta - mouth.Eta) / (end.Xi - mouth.Xi), -1, 1, 0, "front edge of the spar's top against the piece");

    /// <summary>The flat of the butt from its back corner to where it ends; depth along the axis.</summary>
    public static PieceFace Butt(BodyPoint back, BodyPoint end) => new(back, end, 1, 0, 0, 1, "front edge of the spar's top against the butt");

    /// <summary>How deep a point is in the face, m; negative outside.</summary>
    public double Depth(double xi, double eta) => (InXi * (xi - Foot.Xi)) + (InEta * (eta - Foot.Eta));

    /// <summary>How far a point is within the ends of the face, m; negative beyond them.</summary>
    public double Within(double xi, double eta) => Math.Min(
        (AlongXi * (xi - Foot.Xi)) + (AlongEta * (eta - Foot.Eta)), (AlongXi * (End.Xi - xi)) + (AlongEta * (End.Eta - eta)));

    /// <summary>How the depth of a point that stands still changes with it in space (x, z), and with the piece's lean about its centre of gravity, m/rad.</summary>
    public (double X, double Z, double Lean) Gradient(double xi, double eta, double sin, double cos) =>
        ((InXi * sin) + (InEta * cos), (InXi * cos) - (InEta * sin), (InXi * eta) - (InEta * xi));
}
