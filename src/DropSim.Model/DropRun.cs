using DropSim.Integration;

namespace DropSim.Model;

/// <summary>One computed drop: a value that nothing changes afterwards. Times are from hinge break unless said.</summary>
public sealed record DropRun
{
    /// <summary>What it was computed from.</summary>
    public required DropInput Input { get; init; }

    /// <summary>How it ended.</summary>
    public required RunEnd End { get; init; }

    /// <summary>Time from the start of the computation to hinge break, s; NaN where the hinge never broke.</summary>
    public required double HingeBreakTime { get; init; }

    /// <summary>Everything that happened, in order of time.</summary>
    public required IReadOnlyList<RunEvent> Events { get; init; }

    /// <summary>The phases the drop went through, in order, without gaps.</summary>
    public required IReadOnlyList<PhaseSpan> Phases { get; init; }

    /// <summary>The measures, headline first.</summary>
    public required IReadOnlyList<Measure> Measures { get; init; }

    /// <summary>Impacts of the piece against the spar.</summary>
    public required IReadOnlyList<Strike> Strikes { get; init; }

    /// <summary>Where the energy went, and how well the books close.</summary>
    public required LedgerReport Ledger { get; init; }

    /// <summary>Counts of the integrator.</summary>
    public required RunStatistics Statistics { get; init; }

    /// <summary>What a reader must know about this run.</summary>
    public required IReadOnlyList<Remark> Remarks { get; init; }

    /// <summary>The same in SI.</summary>
    public IReadOnlyList<string> Warnings => [.. Remarks.Select(r => r.ToString())];

    /// <summary>The curves; null where the run was made for its measures only.</summary>
    public required IDropTraces? Traces { get; init; }

    /// <summary>The measure with an id.</summary>
    /// <param name="id">One of <see cref="MeasureIds"/>.</param>
    /// <exception cref="KeyNotFoundException">No such measure in this run.</exception>
    public Measure this[string id] =>
        Measures.FirstOrDefault(m => m.Id == id) ?? throw new KeyNotFoundException($"No measure '{id}'.");
}

/// <summary>Why the drop ended.</summary>
public enum EndKind
{
    /// <summary>The piece hangs still.</summary>
    Settled,

    /// <summary>The longest time was reached.</summary>
    EndTime,

    /// <summary>The piece touched the ground.</summary>
    Ground,

    /// <summary>The piece touched an obstacle.</summary>
    Obstacle,

    /// <summary>The end of the rope passed the device.</summary>
    RopeEnd,

    /// <summary>The hitch was drawn up to the rigging point.</summary>
    HitchAtRiggingPoint,

    /// <summary>The rope's breaking strength was exceeded.</summary>
    RopeBroke,

    /// <summary>The computation could not be completed.</summary>
    Failed,
}

/// <summary>How a drop ended.</summary>
/// <param name="Kind">Why.</param>
/// <param name="Time">When, s from hinge break.</param>
/// <param name="Speed">Speed of the touching point or of the piece, m/s.</param>
/// <param name="CutsShort">True where the end came with more than 1 m/s, or before hinge break or before the rope came taut, so that every peak reads "at least" and every margin "not reached".</param>
/// <param name="Description">In words.</param>
public sealed record RunEnd(EndKind Kind, double Time, double Speed, bool CutsShort, string Description)
{
    /// <summary>The words before the speed, where <see cref="Description"/> ends in one; else null.</summary>
    public string? BeforeSpeed { get; init; }

    /// <summary>What was touched, where the end is <see cref="EndKind.Obstacle"/>; else null. The ground is no obstacle.</summary>
    public TouchedObstacle? Obstacle { get; init; }

    /// <summary>The point of the piece that touched, where it touched something; else its centre of gravity. Null where the computation failed.</summary>
    public PlanePoint? Where { get; init; }
}

/// <summary>The obstacle that a piece touched.</summary>
/// <param name="Index">Its place among the site's obstacles.</param>
/// <param name="Name">Its name as the scenario has it.</param>
public sealed record TouchedObstacle(int Index, string Name);

/// <summary>Something that happened.</summary>
/// <param name="Time">When, s from hinge break.</param>
/// <param name="Kind">Short fixed word ("hinge breaks", "load leg taut", "device runs", ...).</param>
/// <param name="Detail">More, for people; may be empty.</param>
/// <param name="Marked">True where a chart should mark it (first of its kind, strikes, ends); false for repeats.</param>
public sealed record RunEvent(double Time, string Kind, string Detail, bool Marked)
{
    /// <summary>
    /// Energy of what began or ended with it, J: lost while the rope slipped, ran or was drawn out of a knot; along the normal in a strike.
    /// Null where it has none of its own (hinge, taut and slack, hand, end; a slip without friction).
    /// </summary>
    public double? Energy { get; init; }
}

/// <summary>A stretch of time with one discrete state.</summary>
/// <param name="From">Start, s from hinge break.</param>
/// <param name="To">End, s from hinge break.</param>
/// <param name="Name">Coarse name for bands in charts: hinged, free, taut, running.</param>
/// <param name="Detail">The full state (each leg, rigging point, hitch, device).</param>
public sealed record PhaseSpan(double From, double To, string Name, string Detail);

/// <summary>Whether a measure is a value or a bound.</summary>
public enum MeasureState
{
    /// <summary>The value.</summary>
    Exact,

    /// <summary>The run was cut short: the true value is at least this.</summary>
    AtLeast,

    /// <summary>The quantity was not reached before the run was cut short.</summary>
    NotReached,

    /// <summary>An input it needs is unknown.</summary>
    Unknown,

    /// <summary>A model of strikes is too coarse for it to be more than an indication.</summary>
    Indicative,
}

/// <summary>Which direction is worse.</summary>
public enum Worse
{
    /// <summary>Larger is worse (forces).</summary>
    Larger,

    /// <summary>Smaller is worse (room, margins).</summary>
    Smaller,

    /// <summary>Neither.</summary>
    Neither,
}

/// <summary>One number that a drop is judged by.</summary>
/// <param name="Id">Fixed id, one of <see cref="MeasureIds"/>.</param>
/// <param name="Label">In words.</param>
/// <param name="Unit">SI unit of <paramref name="Value"/>; "" for none.</param>
/// <param name="Value">Value; NaN where unknown or not reached.</param>
/// <param name="Time">When, s from hinge break; null where it has no time.</param>
/// <param name="State">Value or bound.</param>
/// <param name="Worse">Which direction is worse.</param>
/// <param name="Headline">True for the five headline measures.</param>
/// <param name="HowFound">How it was found, in words.</param>
public sealed record Measure(
    string Id, string Label, string Unit, double Value, double? Time, MeasureState State, Worse Worse, bool Headline, string HowFound)
{
    /// <summary>Smallest value over the stated ranges of the inputs; null where no range was computed.</summary>
    public double? Low { get; init; }

    /// <summary>Largest value over the stated ranges of the inputs; null where no range was computed.</summary>
    public double? High { get; init; }

    /// <summary>True where a run within the range was cut short, so that <see cref="High"/> reads "at least".</summary>
    public bool RangeCutShort { get; init; }

    /// <summary>The inputs that gave the worst value, in words; null where no range was computed.</summary>
    public string? WorstInputs { get; init; }
}

/// <summary>An impact of the piece against the spar (or of the spar's top against the piece).</summary>
/// <param name="Time">When, s from hinge break.</param>
/// <param name="Place">Which corner, and the height on the spar in words.</param>
/// <param name="Height">Height on the spar, m.</param>
/// <param name="ClosingSpeed">Speed along the normal at first touch, m/s.</param>
/// <param name="Energy">Energy along the normal, J.</param>
/// <param name="Impulse">Impulse, N s.</param>
/// <param name="PeakForce">Peak force, N: indicative only, it depends on the contact stiffness alone.</param>
public sealed record Strike(double Time, string Place, double Height, double ClosingSpeed, double Energy, double Impulse, double PeakForce);

/// <summary>The energy books.</summary>
/// <param name="Fallen">Energy that fell: the piece's weight times its largest drop, J.</param>
/// <param name="Places">Where it was at the end, J by place, in a fixed order; sums to the initial energy less the imbalance.</param>
/// <param name="LargestImbalance">Largest imbalance over the run as a fraction of <paramref name="Fallen"/>.</param>
public sealed record LedgerReport(double Fallen, IReadOnlyList<EnergyPlace> Places, double LargestImbalance);

/// <summary>Energy in one place at the end of the run.</summary>
/// <param name="Column">The trace column that follows it in time.</param>
/// <param name="Label">In words ("friction at the device and hand").</param>
/// <param name="Energy">J.</param>
public sealed record EnergyPlace(string Column, string Label, double Energy);

/// <summary>The curves of one drop.</summary>
public interface IDropTraces
{
    /// <summary>First time, s from hinge break (negative: before the hinge breaks).</summary>
    double StartTime { get; }

    /// <summary>Last time, s from hinge break.</summary>
    double EndTime { get; }

    /// <summary>All channels on a uniform grid of times plus the event instants (each once before and once after where a value jumps).</summary>
    /// <param name="interval">Grid, s.</param>
    TraceTable Sample(double interval);

    /// <summary>
    /// As <see cref="Sample(double)"/>, with the columns that move a side view: rigging_point_x_m, rigging_point_z_m and mode_0, mode_1, ...
    /// (the spar's modal coordinates, kg^1/2 m, for <see cref="DropShapes.SparShapes"/>).
    /// </summary>
    /// <param name="interval">Grid, s.</param>
    TraceTable SampleMotion(double interval);

    /// <summary>The shapes that the columns of <see cref="SampleMotion(double)"/> move.</summary>
    DropShapes Shapes { get; }

    /// <summary>Everything a side view needs at one time; where forces jump at an event, the side with the larger force on the rigging point.</summary>
    /// <param name="time">Time, s from hinge break, clamped to the run.</param>
    DropScene SceneAt(double time);
}

/// <summary>
/// The things of a side view at rest. A point (xi, eta) of the piece stands at x = X + xi sin(lean) + eta cos(lean),
/// z = Z + xi cos(lean) - eta sin(lean); the spar's axis at a station is at x = sum of its shapes times the modal coordinates.
/// </summary>
public sealed record DropShapes
{
    /// <summary>Outline of the piece from its centre of gravity, m: xi along the axis toward the tip, eta toward the face side; closed polygon.</summary>
    public required IReadOnlyList<(double Xi, double Eta)> Piece { get; init; }

    /// <summary>The hitch on the piece, m.</summary>
    public required (double Xi, double Eta) Hitch { get; init; }

    /// <summary>Stations on the spar from the ground to the cut, m.</summary>
    public required IReadOnlyList<double> SparHeights { get; init; }

    /// <summary>Radius at the stations, m.</summary>
    public required IReadOnlyList<double> SparRadii { get; init; }

    /// <summary>For each mode its deflection at the stations, kg^-1/2.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> SparShapes { get; init; }

    /// <summary>Height of the climber's feet, m; null with nobody on the spar.</summary>
    public required double? ClimberHeight { get; init; }

    /// <summary>For each mode its deflection at the climber's feet, kg^-1/2.</summary>
    public required IReadOnlyList<double> ClimberShapes { get; init; }
}

/// <summary>Columns of equal length.</summary>
/// <param name="Columns">Columns; the first is time_s (from hinge break).</param>
/// <param name="Phase">Phase of each row.</param>
public sealed record TraceTable(IReadOnlyList<TraceColumn> Columns, IReadOnlyList<string> Phase)
{
    /// <summary>Number of rows.</summary>
    public int RowCount => Phase.Count;

    /// <summary>The values of a column.</summary>
    /// <param name="name">SI name ("load_leg_tension_N").</param>
    /// <exception cref="KeyNotFoundException">No such column.</exception>
    public ReadOnlySpan<double> this[string name] =>
        (Columns.FirstOrDefault(c => c.Name == name) ?? throw new KeyNotFoundException($"No column '{name}'.")).Values.Span;
}

/// <summary>One channel over time.</summary>
/// <param name="Name">quantity_unit in SI, as in CSV headers.</param>
/// <param name="Unit">SI unit symbol as written in <paramref name="Name"/> in plain form ("N", "m", "m/s2", "N m", "J", "rad", "s", "").</param>
/// <param name="Values">Values.</param>
public sealed record TraceColumn(string Name, string Unit, ReadOnlyMemory<double> Values);

/// <summary>A point in the plane of the fall, m.</summary>
/// <param name="X">Horizontal, toward the fall.</param>
/// <param name="Z">Height.</param>
public readonly record struct PlanePoint(double X, double Z);

/// <summary>The drop at one instant, for a side view.</summary>
public sealed record DropScene
{
    /// <summary>Time, s from hinge break.</summary>
    public required double Time { get; init; }

    /// <summary>Outline of the piece, closed polygon.</summary>
    public required IReadOnlyList<PlanePoint> Piece { get; init; }

    /// <summary>Centre of gravity.</summary>
    public required PlanePoint CentreOfGravity { get; init; }

    /// <summary>Bent axis of the spar from the ground to the cut, true deflection (not exaggerated).</summary>
    public required IReadOnlyList<PlanePoint> SparAxis { get; init; }

    /// <summary>Radius of the spar at the points of <see cref="SparAxis"/>, m.</summary>
    public required IReadOnlyList<double> SparRadius { get; init; }

    /// <summary>The hitch on the piece.</summary>
    public required PlanePoint Hitch { get; init; }

    /// <summary>The rigging point.</summary>
    public required PlanePoint RiggingPoint { get; init; }

    /// <summary>The friction device.</summary>
    public required PlanePoint Device { get; init; }

    /// <summary>The climber's feet on the spar's axis; null with nobody on it.</summary>
    public required PlanePoint? Climber { get; init; }

    /// <summary>Load-leg tension, N; 0 when slack.</summary>
    public required double LoadLegTension { get; init; }

    /// <summary>Ground-leg tension, N; 0 when slack.</summary>
    public required double GroundLegTension { get; init; }

    /// <summary>Force of the rope on the rigging point, x, N.</summary>
    public required double RiggingForceX { get; init; }

    /// <summary>Force of the rope on the rigging point, z, N.</summary>
    public required double RiggingForceZ { get; init; }
}
