namespace DropSim.Reporting.Charts;

/// <summary>A picture as plain data: everything that is drawn, in the units that are printed, before anything is drawn.</summary>
internal sealed record Figure
{
    /// <summary>File name with ending.</summary>
    public required string FileName { get; init; }

    /// <summary>The finding in words with numbers.</summary>
    public required string Title { get; init; }

    /// <summary>Scenario, set-up, catch.</summary>
    public required string Subtitle { get; init; }

    /// <summary>Version, hash, what is not modelled, cautions, warnings.</summary>
    public required IReadOnlyList<string> Footer { get; init; }

    /// <summary>Height, pixels; the width is always <see cref="Width"/>.</summary>
    public double Height { get; init; } = 900;

    /// <summary>The panels.</summary>
    public required IReadOnlyList<Panel> Panels { get; init; }

    /// <summary>Width of every picture, pixels.</summary>
    public const int Width = 1600;
}

/// <summary>A rectangle as fractions of the space between subtitle and footer.</summary>
internal readonly record struct Place(double Left, double Top, double Width, double Height);

/// <summary>One pair of axes with what is drawn on it.</summary>
internal sealed record Panel
{
    /// <summary>Where in the picture.</summary>
    public Place Place { get; init; } = new(0, 0, 1, 1);

    /// <summary>Words above the panel; may be empty.</summary>
    public string Heading { get; init; } = "";

    /// <summary>Horizontal axis.</summary>
    public required Axis X { get; init; }

    /// <summary>Vertical axis.</summary>
    public required Axis Y { get; init; }

    /// <summary>A second scale on the right for the same curves; null for none.</summary>
    public SecondScale? Right { get; init; }

    /// <summary>True where a metre is a metre in both directions: the axes' ranges are widened to fit.</summary>
    public bool EqualScale { get; init; }

    /// <summary>Phases, behind everything, named along the top.</summary>
    public IReadOnlyList<Band> Bands { get; init; } = [];

    /// <summary>Events, named along the top.</summary>
    public IReadOnlyList<Tick> Ticks { get; init; } = [];

    /// <summary>A quantity over the whole panel, in bands of colour; null for none.</summary>
    public Field? Field { get; init; }

    /// <summary>Stacked areas.</summary>
    public IReadOnlyList<Area> Areas { get; init; } = [];

    /// <summary>Closed shapes.</summary>
    public IReadOnlyList<Shape> Shapes { get; init; } = [];

    /// <summary>Curves.</summary>
    public IReadOnlyList<Curve> Curves { get; init; } = [];

    /// <summary>Horizontal lines across the panel.</summary>
    public IReadOnlyList<Level> Levels { get; init; } = [];

    /// <summary>Arrows.</summary>
    public IReadOnlyList<Arrow> Arrows { get; init; } = [];

    /// <summary>Marked points.</summary>
    public IReadOnlyList<Dot> Dots { get; init; } = [];

    /// <summary>Words beside points: the layout finds a free place near each.</summary>
    public IReadOnlyList<Label> Labels { get; init; } = [];

    /// <summary>Words exactly where they are told.</summary>
    public IReadOnlyList<Text> Texts { get; init; } = [];
}

/// <summary>An axis with a fixed range.</summary>
/// <param name="Title">Quantity.</param>
/// <param name="Unit">Unit; "" for none.</param>
/// <param name="Min">Lower end.</param>
/// <param name="Max">Upper end.</param>
/// <param name="Step">Distance of the numbered lines.</param>
/// <param name="Shown">False to draw neither numbers nor title.</param>
internal sealed record Axis(string Title, string Unit, double Min, double Max, double Step, bool Shown = true);

/// <summary>A second scale: the left one divided by a number.</summary>
internal sealed record SecondScale(string Title, double LeftPerUnit, double Step);

/// <summary>How a line is drawn.</summary>
internal enum Dash
{
    Solid,
    Long,
    Dots,
    DashDot,
}

/// <summary>Colour, width in pixels, dashes.</summary>
internal readonly record struct Stroke(string Colour, double Width, Dash Dash = Dash.Solid);

/// <summary>A curve; NaN breaks it.</summary>
internal sealed record Curve(string Name, double[] X, double[] Y, Stroke Stroke);

/// <summary>A quantity on a grid, shown in bands of colour; where it is not known, hatched.</summary>
/// <param name="X">Places of the columns, rising.</param>
/// <param name="Y">Places of the rows, rising.</param>
/// <param name="Values">Value at [column, row]; not a number where it is not known: every cell that touches such a place is hatched.</param>
/// <param name="Levels">Borders of the bands, rising.</param>
/// <param name="Fills">Colours, one more than borders.</param>
internal sealed record Field(double[] X, double[] Y, double[,] Values, double[] Levels, string[] Fills);

/// <summary>An area between two curves over the same x.</summary>
internal sealed record Area(string Name, double[] X, double[] Lower, double[] Upper, string Fill);

/// <summary>A stretch of x with a name.</summary>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
/// <param name="Name">Its name.</param>
/// <param name="Short">What stands there where the name has no room; "" for nothing.</param>
/// <param name="Fill">Colour.</param>
internal sealed record Band(double From, double To, string Name, string Short, string Fill);

/// <summary>A marked x with a name.</summary>
internal sealed record Tick(double At, string Name, bool Strong = false);

/// <summary>A horizontal line with words.</summary>
internal sealed record Level(double At, string Words, Stroke Stroke);

/// <summary>A closed polygon; fill "" for none.</summary>
internal sealed record Shape(string Name, IReadOnlyList<(double X, double Y)> Points, string Fill, Stroke Stroke);

/// <summary>An arrow from a point.</summary>
internal sealed record Arrow(string Name, double X, double Y, double ToX, double ToY, Stroke Stroke);

/// <summary>The sign of a marked point: what differs in meaning differs in shape.</summary>
internal enum Sign
{
    Round,
    Cross,
    Triangle,
}

/// <summary>A marked point.</summary>
internal sealed record Dot(string Name, double X, double Y, string Colour, double Radius, bool Hollow = false, Sign Sign = Sign.Round);

/// <summary>Which way a label should go from its point where it can.</summary>
internal enum Toward
{
    UpRight,
    Up,
    UpLeft,
    Right,
    Left,
    Down,
    DownRight,
    DownLeft,
}

/// <summary>Words beside a point.</summary>
internal sealed record Label(string Words, double X, double Y, string Colour, Toward Toward = Toward.UpRight, bool Bold = false, bool Leader = true);

/// <summary>Which part of the words sits at the point.</summary>
internal enum Grip
{
    Left,
    Middle,
    Right,
}

/// <summary>Words at a point, centred in height.</summary>
internal sealed record Text(string Words, double X, double Y, string Colour, Grip Grip, bool Bold = false);
