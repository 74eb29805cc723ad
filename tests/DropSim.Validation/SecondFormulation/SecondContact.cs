using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// Wood on wood, written a second time: how deep each place is as a function of the coordinates alone (place and lean of the log, modes of the
/// spar); every gradient and every movement of a touching point by central differences of that function, none worked out by hand. Along the gradient Hunt and
/// Crossley's force, across it friction that turns round smoothly.
/// Corners of the log against the spar's front side, the spar's front top edge against the log's front flank and against the flat of its butt.
/// </summary>
internal sealed class SecondContact
{
    private readonly ComputationInput _law;
    private readonly SparChain? _chain;
    private readonly int _side, _n;
    private readonly double _height, _foot, _head;
    private readonly Place[] _places;
    private readonly bool[] _armed;
    private readonly double[,] _topShortening;

    /// <summary>Step of the central differences, in m, rad and mode coordinates.</summary>
    private const double H = 1e-6;

    /// <param name="drop">The drop: an even log, a spar with one taper.</param>
    /// <param name="side">1 where the log falls toward larger x, else -1.</param>
    /// <param name="chain">The spar's modes; null for a rigid spar.</param>
    public SecondContact(DropInput drop, int side, SparChain? chain)
    {
        (_law, _side, _chain, _n) = (drop.Computation, side, chain, chain?.Frequencies.Length ?? 0);
        (_height, _foot, _head) = (drop.Spar.Height, drop.Spar.Diameters[0].Diameter / 2, drop.Spar.Diameters[1].Diameter / 2);
        _topShortening = chain?.Shortening(_height) ?? new double[0, 0];
        var (r, c, length) = (drop.Piece.ButtDiameter / 2, drop.Piece.CentreOfGravity, drop.Piece.Length);
        var cut = drop.Start.Kind == StartKind.FaceCut;

        // The face cut takes a wedge off the front of the butt: from the hinge outward as high as it opens, at most 70 degrees and half the length.
        var hinge = r * (1 - (2 * drop.Start.FaceCutDepth));
        var mouth = cut ? Math.Min((r - hinge) * Math.Tan(Math.Min(drop.Start.ReleaseAngle, 70 * Math.PI / 180)), length / 2) : 0;
        List<Place> places =
        [
            Corner(-c, -r), Corner(mouth - c, r), Corner(length - c, r), Corner(length - c, -r),
            Face(at => (r - (side * at.Across), Math.Min(at.Along - (mouth - c), length - c - at.Along))),
            Face(at => (at.Along + c, Math.Min((side * at.Across) + r, (cut ? hinge : r) - (side * at.Across)))),
        ];
        if (cut)
        {
            places.Add(Corner(-c, hinge));
        }

        _places = [.. places];
        _armed = new bool[_places.Length];
    }

    /// <summary>Largest sum of the forces of all places so far, N.</summary>
    public double Peak { get; private set; }

    /// <summary>Forces together when last asked, N.</summary>
    public double Now { get; private set; }

    /// <summary>Lays the flat of the butt on the edge: a log that was slid out rests on it.</summary>
    public void LieOnEdge() => Arm(Butt);

    /// <summary>Makes a place ready to press: back and front corner of the butt (or mouth), front and back corner of the tip, flank, butt, and with a face cut the hinge's corner.</summary>
    public void Arm(int place) => _armed[place] = true;

    /// <summary>The edge on the flat of the butt.</summary>
    private const int Butt = 5;

    /// <summary>
    /// What each place remembers: it can press once it has been where it can meet the spar, and clear of it; one that leaves faster than its wood springs
    /// back (damping would pull) is off it, and must get clear first.
    /// </summary>
    public void Remember(double[] q, double[] rates)
    {
        Peak = Math.Max(Peak, Now);
        for (var i = 0; i < _places.Length; i++)
        {
            var (depth, within) = _places[i].Measure(q);
            if (!_armed[i])
            {
                _armed[i] = within > 0 && depth < 0;
            }
            else if (within < 0 && (depth < 0 || _places[i].IsFace))
            {
                _armed[i] = false;
            }
            else if (depth > 0 && _law.ContactDamping * Speed(Gradient(at => _places[i].Measure(at).Depth, q), rates) <= -1)
            {
                _armed[i] = false;
            }
        }
    }

    /// <summary>Adds the generalised forces of all places: on x, z, lean, then on the modes.</summary>
    /// <param name="q">Coordinates.</param>
    /// <param name="rates">Their rates.</param>
    /// <param name="forces">Added to.</param>
    public void Add(double[] q, double[] rates, double[] forces)
    {
        Now = 0;
        for (var place = 0; place < _places.Length; place++)
        {
            if (!_armed[place])
            {
                continue;
            }

            var (depth, within) = _places[place].Measure(q);
            if (depth <= 0 || (_places[place].IsFace && within < 0))
            {
                continue;
            }

            Press(_places[place], depth, q, rates, forces);
        }
    }

    private void Press(Place place, double depth, double[] q, double[] rates, double[] forces)
    {
        var gradient = Gradient(at => place.Measure(at).Depth, q);
        var closing = Speed(gradient, rates);
        var force = Math.Max(0, _law.ContactStiffness * Math.Pow(depth, 1.5) * (1 + (_law.ContactDamping * closing)));

        // Moving the log alone moves its touching point alone: the first two are the normal, and across it the sides rub.
        var size = Math.Sqrt((gradient[0] * gradient[0]) + (gradient[1] * gradient[1]));
        var (tx, tz) = (-gradient[1] / size, gradient[0] / size);
        var passes = place.Passing(q);
        var past = Gradient(at => { var (x, z) = passes(at); return (tx * x) + (tz * z); }, q);
        var sliding = Speed(past, rates);
        var rub = -_law.ContactFriction * force * size * sliding / Math.Sqrt((sliding * sliding) + (_law.ContactStillSpeed * _law.ContactStillSpeed));
        for (var i = 0; i < q.Length; i++)
        {
            forces[i] += (rub * past[i]) - (force * gradient[i]);
        }

        Now += Math.Sqrt((force * size * force * size) + (rub * rub));
    }

    private static double Speed(double[] gradient, double[] rates)
    {
        double speed = 0;
        for (var i = 0; i < rates.Length; i++)
        {
            speed += gradient[i] * rates[i];
        }

        return speed;
    }

    private static double[] Gradient(Func<double[], double> of, double[] q)
    {
        var gradient = new double[q.Length];
        var at = (double[])q.Clone();
        for (var i = 0; i < q.Length; i++)
        {
            at[i] = q[i] + H;
            var up = of(at);
            at[i] = q[i] - H;
            gradient[i] = (up - of(at)) / (2 * H);
            at[i] = q[i];
        }

        return gradient;
    }

    /// <summary>A corner, seen from the log's centre of gravity: along the axis, and across it toward the face side.</summary>
    private Place Corner(double along, double across)
    {
        (double X, double Z) At(double[] q)
        {
            var (sin, cos) = Math.SinCos(q[2]);
            return (q[0] + (along * sin) + (_side * across * cos), q[1] + (along * cos) - (_side * across * sin));
        }

        return new(
            q =>
            {
                var (x, z) = At(q);
                return (Radius(z) + (_side * (Deflection(z, q) - x)), _height - z);
            },
            false,

            // The bark at the corner's height now: it goes with the deflection, and up and down as its section turns.
            now =>
            {
                var z = At(now).Z;
                var radius = Radius(z);
                return q =>
                {
                    var (x, up) = At(q);
                    return (x - Deflection(z, q), up + (_side * radius * Slope(z, q)));
                };
            });
    }

    /// <summary>A face of the log that the edge meets, measured from where the log sees the edge.</summary>
    private Place Face(Func<(double Along, double Across), (double Depth, double Within)> measure) => new(
        q => measure(Edge(q)),
        true,

        // The log's wood at the edge now, against the edge.
        now =>
        {
            var (along, across) = Edge(now);
            return q =>
            {
                var (sin, cos) = Math.SinCos(q[2]);
                var (x, z) = EdgeInSpace(q);
                return (q[0] + (along * sin) + (across * cos) - x, q[1] + (along * cos) - (across * sin) - z);
            };
        });

    /// <summary>The front edge of the spar's top in space.</summary>
    private (double X, double Z) EdgeInSpace(double[] q)
    {
        var (x, z) = (_side * _head, _height);
        for (var i = 0; i < _n; i++)
        {
            x += _chain!.Shape(i, _height) * q[3 + i];
            z -= _side * _head * _chain.Slope(i, _height) * q[3 + i];
            for (var j = 0; j < _n; j++)
            {
                z -= q[3 + i] * _topShortening[i, j] * q[3 + j] / 2;
            }
        }

        return (x, z);
    }

    /// <summary>The same as the log sees it: along its axis and across it.</summary>
    private (double Along, double Across) Edge(double[] q)
    {
        var (x, z) = EdgeInSpace(q);
        var (sin, cos) = Math.SinCos(q[2]);
        var (dx, dz) = (x - q[0], z - q[1]);
        return ((dx * sin) + (dz * cos), (dx * cos) - (dz * sin));
    }

    private double Radius(double z) => _foot + ((_head - _foot) * Math.Min(z, _height) / _height);

    /// <summary>Sideways movement of the axis; above the cut it goes on straight.</summary>
    private double Deflection(double z, double[] q)
    {
        double w = 0;
        for (var i = 0; i < _n; i++)
        {
            w += q[3 + i] * (_chain!.Shape(i, Math.Min(z, _height)) + (Math.Max(0, z - _height) * _chain.Slope(i, _height)));
        }

        return w;
    }

    private double Slope(double z, double[] q)
    {
        double slope = 0;
        for (var i = 0; i < _n; i++)
        {
            slope += q[3 + i] * _chain!.Slope(i, Math.Min(z, _height));
        }

        return slope;
    }

    /// <summary>A place of contact.</summary>
    /// <param name="Measure">How deep it is, and how far within what it can meet; both in m.</param>
    /// <param name="IsFace">True for the edge on a face, which ends with the face; a corner that presses goes on above the cut.</param>
    /// <param name="Passing">From the coordinates now: where the log's touching wood is from the spar's, as a function of the coordinates.</param>
    private sealed record Place(
        Func<double[], (double Depth, double Within)> Measure, bool IsFace, Func<double[], Func<double[], (double X, double Z)>> Passing);
}
