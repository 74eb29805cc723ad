using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// The piece as a rigid outline: where its corners are, seen from its centre of gravity.
/// A point (xi, eta), xi along the axis toward the tip and eta toward the face side, stands at
/// x = X + xi sin(phi) + eta cos(phi), z = Z + xi cos(phi) - eta sin(phi) (docs/theory/piece.md).
/// </summary>
internal sealed class PieceBody
{
    /// <summary>Largest opening of the face cut that the piece itself loses, rad; the rest is the spar's.</summary>
    public const double LargestMouth = 70 * Math.PI / 180;

    public PieceBody(DropInput input)
    {
        var piece = input.Piece;
        var c = piece.CentreOfGravity;
        var b = piece.SidewaysOffset;
        var buttRadius = piece.ButtDiameter / 2;
        var taper = (piece.TipDiameter - piece.ButtDiameter) / 2 / piece.Length;
        double Radius(double height) => buttRadius + (taper * height);

        Mass = piece.Mass;
        Inertia = piece.Inertia;

        if (input.Start.Kind == StartKind.FaceCut)
        {
            HingeX = buttRadius * (1 - (2 * input.Start.FaceCutDepth));
            Hinge = new(-c, HingeX - b);
            var mouth = Math.Min((buttRadius - HingeX) * Tangent(Math.Min(input.Start.ReleaseAngle, LargestMouth)), piece.Length / 2);
            Mouth = new(mouth - c, Radius(mouth) - b);
            BalanceLean = Elementary.Atan2(HingeX - b, c);
        }
        else
        {
            // Slid out until the centre of gravity is over the edge: the edge then touches the butt right below it.
            HingeX = new SparTaper(input.Spar.Diameters, input.Spar.Height).Radius(input.Spar.Height);
            Hinge = new(-c, 0);
            Mouth = new(-c, buttRadius - b);
            BalanceLean = 0;
        }

        Hitch = new(piece.HitchHeight - c, Radius(piece.HitchHeight) - b);
        var bare = Math.Min(piece.BareLength, piece.Length);
        var bareEnd = new BodyPoint(bare - c, Radius(bare) - b);
        FlankEnd = new(piece.Length - c, Radius(piece.Length) - b);
        var back = new BodyPoint(-c, -buttRadius - b);
        var tipFront = new BodyPoint(piece.Length - c, Radius(piece.Length) - b);
        var tipBack = new BodyPoint(piece.Length - c, -Radius(piece.Length) - b);

        // Only real corners are hard ones: a butt that was slid over the edge has none where it turned on it.
        var cut = input.Start.Kind == StartKind.FaceCut;
        (BodyPoint Point, string Name)[] butt = cut
            ? [(back, "back corner of the butt"), (Hinge, "hinge side of the butt"), (Mouth, "mouth of the face cut")]
            : [(back, "back corner of the butt"), (Mouth, "front corner of the butt")];
        (BodyPoint Point, string Name)[] hard = [.. butt, (tipFront, "front corner of the tip"), (tipBack, "back corner of the tip")];
        HardCorners = [.. hard.Select(h => h.Point)];
        HardCornerNames = [.. hard.Select(h => h.Name)];
        Faces = [PieceFace.Flank(Mouth, FlankEnd), PieceFace.Butt(back, cut ? Hinge : Mouth)];

        BodyPoint[] hinge = cut ? [Hinge] : [];

        // Clockwise in body axes: up the back, over the tip, down the front.
        Outline = piece.Kind == PieceKind.Log || piece.CrownHalfWidth <= Radius(bare)
            ? [back, tipBack, tipFront, Mouth, .. hinge]
            : [back, new(bare - c, -Radius(bare) - b), new(bare - c + ((piece.Length - bare) * CrownWidestAt), -piece.CrownHalfWidth - b),
               tipBack, tipFront, new(bare - c + ((piece.Length - bare) * CrownWidestAt), piece.CrownHalfWidth - b), bareEnd, Mouth, .. hinge];
        Reach = Outline.Max(p => double.Hypot(p.Xi, p.Eta));
    }

    /// <summary>Where along the crown it is widest (common practice, no source: low in the crown).</summary>
    private const double CrownWidestAt = 0.3;

    public double Mass { get; }

    public double Inertia { get; }

    /// <summary>Distance of the hinge from the spar's axis toward the fall, m.</summary>
    public double HingeX { get; }

    /// <summary>Lean at which the piece balances over the hinge, rad.</summary>
    public double BalanceLean { get; }

    public BodyPoint Hinge { get; }

    public BodyPoint Mouth { get; }

    /// <summary>Upper end of the front flank that is hard against the spar: the tip of the stem. Branches are soft and left out.</summary>
    public BodyPoint FlankEnd { get; }

    public BodyPoint Hitch { get; }

    /// <summary>Corners that can strike the spar's side.</summary>
    public BodyPoint[] HardCorners { get; }

    public string[] HardCornerNames { get; }

    /// <summary>Faces that the front edge of the spar's top can meet: the flank, then the butt.</summary>
    public PieceFace[] Faces { get; }

    /// <summary>The outline that can touch the ground and obstacles.</summary>
    public BodyPoint[] Outline { get; }

    /// <summary>Distance of the farthest point of the outline from the centre of gravity, m.</summary>
    public double Reach { get; }

    private static double Tangent(double angle)
    {
        var (sin, cos) = Elementary.SinCos(angle);
        return sin / cos;
    }
}

/// <summary>A point fixed in the piece.</summary>
/// <param name="Xi">Along the axis from the centre of gravity toward the tip, m.</param>
/// <param name="Eta">Across the axis toward the face side, m.</param>
internal readonly record struct BodyPoint(double Xi, double Eta);
