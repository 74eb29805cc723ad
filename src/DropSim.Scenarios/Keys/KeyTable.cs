using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Keys;

/// <summary>A table of the format.</summary>
/// <param name="Name">Name in the file.</param>
/// <param name="Says">What it holds.</param>
/// <param name="Array">True for a list of tables ([[name]]).</param>
/// <param name="InSetup">True where a set-up may override it.</param>
internal sealed record SectionSpec(string Name, string Says, bool Array = false, bool InSetup = true);

/// <summary>Every key of the scenario format, in the order of the documentation.</summary>
internal static partial class KeyTable
{
    internal const string Practice = "common practice, no source";
    internal const string Choice = "choice of this model";
    internal const string Memory = "from memory";

    public static IReadOnlyList<SectionSpec> Sections { get; } =
    [
        new("", "Top of the file.", InSetup: false),
        new("piece", "What is cut off: a log (plain stem section) or a top (stem tip with branches)."),
        new("start", "How the piece leaves the spar."),
        new("spar", "The standing stem with the climber on it."),
        new("rigging-point", "Where the rope turns on the spar: a ring, a block or a natural union."),
        new("sling", "What holds the ring or block on the stem."),
        new("rope", "The rigging rope."),
        new("rope.hitch-take-up", "Rope that the knot at the piece gives once while it tightens."),
        new("rope.wraps-take-up", "Rope that the wraps of a locked or holding device give once while they snug down."),
        new("device", "The friction device: a bollard low on the spar or elsewhere."),
        new("hold-test", "A known mass hung at rest over the same rigging point, rope and device: replaces device.friction."),
        new("sway-test", "The climber rocks the stem and swings are timed: replaces guesses about root and modulus."),
        new("stretch-test", "A length of the rope is loaded with a known mass: replaces rope.stiffness."),
        new("strength", "Strengths, new and dry, as far as they are known; what is not given stays unknown."),
        new("limits", "Limits that you set yourself, for `dropsim options`: it counts what stays inside them. They are places to turn back from, not targets, and no drop is computed from them."),
        new("computation", "How the drop is computed; rarely needed."),
        new("obstacle", "Something that the piece must not hit, an upright rectangle in the plane of the fall.", Array: true),
        new("catch", "What is done with the rope. Without any: a hard stop and a let run.", Array: true, InSetup: false),
        new("setup", "A set-up to compare. It may override any table above, written as [setup.rope] and so on. Without any: one, named base.", Array: true, InSetup: false),
        new(UncertainSection, "An input with its distribution, for `dropsim uncertainty` and `dropsim options`; `simulate` does not use it. Inputs without one are spread over their stated ranges. Where a study lays another value over the file's, the distribution goes along: a length by as much, everything else by the same factor.", Array: true, InSetup: false),
        new("review", "For a drop that really happened: what is known and what is not.", InSetup: false),
        new("plan", "Only in a spar file, for `dropsim dismantle`: how a whole stem is cut down. There `spar.height` is the height of the stem as it stands, its top included, and of `[piece]` only what holds for every piece may be given.", InSetup: false),
    ];

    public static IReadOnlyList<KeySpec> All { get; } =
    [
        .. TopKeys(), .. PieceKeys(), .. StartKeys(), .. SparKeys(), .. RiggingKeys(), .. RopeKeys(), .. DeviceKeys(), .. OtherKeys(), .. CatchKeys(), .. PlanKeys(), .. LimitKeys(), .. UncertainKeySpecs(),
    ];

    public static IReadOnlyDictionary<string, KeySpec> ByPath { get; } = All.ToDictionary(k => k.Path, StringComparer.Ordinal);

    /// <summary>Keys that every case needs, whatever table of the file they stand in.</summary>
    public static IReadOnlyList<KeySpec> RequiredInCase { get; } = [.. All.Where(k => k.Required && !Sections.First(s => s.Name == k.Section).Array)];

    /// <summary>True for a single value of a case, which a study may change by its path.</summary>
    public static bool MayChange(KeySpec spec) =>
        spec.Kind is ValueKind.Quantity or ValueKind.Choice or ValueKind.Flag or ValueKind.Text
        && (spec.Section == "catch" || Sections.Any(s => s.Name == spec.Section && s.Name.Length > 0 && s.InSetup && !s.Array))
        && spec.Name != "name";

    public static IEnumerable<KeySpec> Of(string section) => All.Where(k => k.Section == section);

    private static KeySpec Text(string section, string name, string says) =>
        new(section, name) { Kind = ValueKind.Text, Says = says };

    private static KeySpec Flag(string section, string name, string says, string value, string source) =>
        new(section, name) { Kind = ValueKind.Flag, Says = says, Default = new(value, source) };

    private static KeySpec Word(string section, string name, string says, params string[] words) =>
        new(section, name) { Kind = ValueKind.Choice, Says = says, Choices = words };

    private static KeySpec Number(string section, string name, QuantityKind kind, double least, double most, string says) =>
        new(section, name) { Quantity = kind, Least = least, Most = most, Says = says };

    private static KeySpec Range(string section, string name, QuantityKind kind, double least, double most, string says) =>
        Number(section, name, kind, least, most, says) with { MayRange = true };

    private static KeySpec Items(string section, string name, string says, params KeySpec[] items) =>
        new(section, name) { Kind = ValueKind.Items, Says = says, Items = items };

    private static IEnumerable<KeySpec> TopKeys()
    {
        yield return Text("", "title", "Title in words.") with { Computed = "the file name" };
        yield return Text("", "description", "What the scenario shows.") with { Computed = "empty" };
        yield return Word("", "units", "Units preferred in results; inputs may mix.", "metric", "us") with { Default = new("metric", Choice) };
        yield return new("review", "seen") { Kind = ValueKind.Texts, Says = "What was seen or measured.", Computed = "empty" };
        yield return new("review", "assumed") { Kind = ValueKind.Texts, Says = "What the scenario assumes.", Computed = "empty" };
        yield return new("review", "unknown") { Kind = ValueKind.Texts, Says = "What nobody knows.", Computed = "empty" };
        yield return Text("setup", "name", "Name, as in file names; letters, digits and hyphens.") with { Required = true };
        yield return Text("setup", "description", "In words.") with { Computed = "empty" };
    }

    private static IEnumerable<KeySpec> PieceKeys()
    {
        const string S = "piece";
        yield return Word(S, "kind", "Log or top.", "log", "top") with { Required = true };
        yield return Text(S, "species", "Common name; gives density and, for the spar, modulus and strength.") with
        {
            Computed = "unknown: density 900 kg/m3 (650 to 1100)",
        };
        yield return Number(S, "length", QuantityKind.Length, 0.2, 30, "Length along the stem, cut to tip.") with { Required = true };
        yield return Number(S, "butt-diameter", QuantityKind.Length, 0.03, 3, "Diameter at the cut, over the bark.") with { Group = "piece butt", Computed = "from butt-girth; one of the two is needed" };
        yield return Number(S, "butt-girth", QuantityKind.Length, 0.1, 9.5, "Girth at the cut, over the bark (diameter = girth / pi).") with { Group = "piece butt", Computed = "from butt-diameter" };
        yield return Number(S, "middle-diameter", QuantityKind.Length, 0.01, 3, "Diameter at mid length; the log's volume then follows Newton's formula.") with { Group = "piece middle", Computed = "not measured: truncated cone" };
        yield return Number(S, "middle-girth", QuantityKind.Length, 0.03, 9.5, "Girth at mid length.") with { Group = "piece middle", Computed = "from middle-diameter" };
        yield return Number(S, "tip-diameter", QuantityKind.Length, 0, 3, "Diameter at the far end of the stem.") with { Group = "piece tip", Computed = "log: 0.95 of the butt; top: 0.02 m" };
        yield return Number(S, "tip-girth", QuantityKind.Length, 0, 9.5, "Girth at the far end of the stem.") with { Group = "piece tip", Computed = "from tip-diameter" };
        yield return Range(S, "density", QuantityKind.Density, 200, 1400, "Green density of the stem.") with { Computed = "from species" };
        yield return Range(S, "mass", QuantityKind.Mass, 0.5, 20000, "Mass as estimated by somebody.") with { Group = "piece mass", Computed = "from the measures: log +-15 %, top +-40 %" };
        yield return Range(S, "weighed", QuantityKind.Mass, 0.5, 20000, "Mass as weighed; overrides every estimate, range +-3 %.") with { Group = "piece mass", Computed = "not weighed" };
        yield return Number(S, "balance-point", QuantityKind.Length, 0.02, 30, "Measured distance from the cut to the balance point.") with { Computed = "from the shape" };
        yield return Number(S, "sideways-offset", QuantityKind.Length, -3, 3, "Offset of the balance point from the axis, toward the face side positive.") with { Default = new("0 m", Choice) };
        yield return Number(S, "inertia", QuantityKind.Inertia, 1e-3, 1e6, "Moment of inertia about the centre of gravity, across the stem.") with { Computed = "from the shape, scaled with the mass" };
        yield return Number(S, "hitch-height", QuantityKind.Length, 0.02, 10, "Height of the hitch above the cut, on the face side.") with
        {
            BySize = new("0.25 0.15 0.4 m | 0.3 0.2 0.45 m | 0.4 0.25 0.6 m | 0.35 0.2 0.6 m", Practice),
            Computed = "by size, at most half the length",
        };
        yield return Number(S, "bare-length", QuantityKind.Length, 0, 30, "Top: bare stem from the cut to the foot of the live crown.") with { Computed = "log: its length; top: a third of it (assumed)" };
        yield return Word(S, "crown", "Top: branches and leaves against the stem's mass: sparse 0.4, medium 0.8, dense 1.2 (assumed).", "sparse", "medium", "dense") with { Default = new("medium", Practice) };
        yield return Number(S, "crown-half-width", QuantityKind.Length, 0, 10, "Top: half width of the crown.") with { Computed = "log: 0; top: 0.15 of the length (assumed)" };
        yield return Number(S, "drag-area", QuantityKind.Area, 0, 20, "Drag coefficient times area. Drag makes forces smaller, so it is left out unless given.") with { Default = new("0 m2", Choice) };
    }

    private static IEnumerable<KeySpec> StartKeys()
    {
        const string S = "start";
        yield return Word(S, "kind", "Hinged over a face cut, or pushed off without one.", "face-cut", "pushed-off") with { Default = new("face-cut", Choice) };
        yield return Number(S, "face-cut-depth", QuantityKind.Fraction, 0, 0.5, "Depth of the face cut as part of the diameter; above 0.5 is refused.") with { Default = new("0.25", "0.2", "0.33", Practice) };
        yield return Range(S, "release-angle", QuantityKind.Angle, 1 * Degree, 150 * Degree, "Lean at which the face cut closes and the hinge breaks; pushed off: lean at which the piece leaves the edge. A first-order input.") with
        {
            BySize = new("50 20 70 deg | 60 40 70 deg | 60 40 70 deg | 80 60 90 deg", Practice),
            Computed = "by size; pushed off 15 deg (10 to 25)",
        };
        yield return Number(S, "hinge-strength", QuantityKind.Force, 1, 1e8, "Hinge force at which the hinge breaks early.") with { Computed = "never breaks early" };
        yield return Number(S, "lean-past-balance", QuantityKind.Angle, 0.001, 0.5, "Lean past balance at which the computation starts.") with { Default = new("0.05 rad", Choice) };
        yield return Number(S, "initial-rate", QuantityKind.AngularRate, 0, 3, "Rate of lean at the start.") with { Default = new("0.05 rad/s", Choice) };
        yield return Number(S, "push-speed", QuantityKind.Speed, 0, 3, "Pushed off: speed of the push.") with { Default = new("0.1 m/s", Choice) };
    }

    private static IEnumerable<KeySpec> SparKeys()
    {
        const string S = "spar";
        KeySpec at = Number("", "at", QuantityKind.Length, 0, 80, "Height above the ground.") with { Required = true };
        yield return Number(S, "height", QuantityKind.Length, 1, 80, "Height of the cut above the ground.") with { Required = true };
        yield return Items(S, "diameters", "Measured diameters, from the ground up: { at = \"0 m\", diameter = \"0.55 m\" }.", at, Number("", "diameter", QuantityKind.Length, 0.03, 5, "Diameter over the bark.") with { Required = true }) with { Group = "spar profile", Computed = "from girths; one of the two is needed" };
        yield return Items(S, "girths", "Measured girths, from the ground up: { at = \"1.3 m\", girth = \"168 cm\" }.", at, Number("", "girth", QuantityKind.Length, 0.1, 16, "Girth over the bark.") with { Required = true }) with { Group = "spar profile", Computed = "from diameters" };
        yield return Text(S, "species", "Common name.") with { Computed = "the piece's" };
        yield return Number(S, "density", QuantityKind.Density, 200, 1400, "Green density.") with { Computed = "from species; unknown: 900 kg/m3" };
        yield return Number(S, "modulus", QuantityKind.Stress, 5e8, 3e10, "Green modulus of elasticity.") with { Computed = "from species; unknown: 9 GPa" };
        yield return Number(S, "bending-strength", QuantityKind.Stress, 1e6, 3e8, "Green bending strength.") with { Computed = "from species; otherwise unknown" };
        yield return Word(S, "root", "What the root stands in, where its stiffness is not given: ordinary, or softer (soft or wet ground, roots cut, decayed root).", "ordinary", "soft-ground", "wet-ground", "roots-cut", "decayed") with { Default = new("ordinary", Choice) };
        yield return Range(S, "root-stiffness", QuantityKind.RotationalStiffness, 1e4, double.PositiveInfinity, "Rotational stiffness of the root, or \"rigid\".") with { Computed = "from the stem's size: 200 (70 to 600) MN m/rad per m3 times the cube of its diameter at 1.3 m; where the root is softer 70 (7 to 200)" };
        yield return Number(S, "damping", QuantityKind.Fraction, 0, 0.5, "Damping ratio of every mode.") with { Default = new("2 %", "1 %", "8 %", "de-branched stems 1 to 8 %: J.R. Moore and D.A. Maguire (2004), Trees 18(2):195-203 (abstract); the central value is common practice") };
        yield return Word(S, "condition", "Condition of the stem; for anything but sound the strength margin is withheld.", "unknown", "sound", "dead", "decayed", "cracked") with { Default = new("unknown", Choice) };
        yield return Number(S, "climber-mass", QuantityKind.Mass, 0, 300, "Mass of the climber with gear; 0 for nobody on the spar.") with { Default = new("90 kg", "70 kg", "120 kg", Practice) };
        yield return Number(S, "climber-below-cut", QuantityKind.Length, 0.1, 60, "Height of the climber's feet below the cut.") with { Default = new("1.2 m", "1.0 m", "1.5 m", Practice) };
        yield return Flag(S, "rigid", "True to hold the spar rigid.", "false", Choice);
    }

    private static IEnumerable<KeySpec> PlanKeys()
    {
        const string S = "plan";
        yield return Number(S, "piece-length", QuantityKind.Length, 0.3, 15, "Length of a log.") with { Computed = "as long as piece-mass allows; one of the two is needed, and with both the shorter piece counts" };
        yield return Number(S, "piece-mass", QuantityKind.Mass, 5, 5000, "Mass that no estimate of a log may exceed.") with { Computed = "no rule by mass" };
        yield return Number(S, "lowest-cut", QuantityKind.Length, 1, 60, "Height of the lowest cut; what stands below it comes down another way.") with { Default = new("3 m", Practice) };
        yield return Number(S, "top-length", QuantityKind.Length, 0.5, 30, "Length of the top with its branches, taken first.") with { Computed = "no top: it is off already" };
    }

    internal const double Degree = Math.PI / 180;
}
