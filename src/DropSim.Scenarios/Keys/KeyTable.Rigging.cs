using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Keys;

internal static partial class KeyTable
{
    /// <summary>Stand-off of a ring by size of the piece.</summary>
    public static SizeDefault RingStandOff { get; } = new("0.06 m | 0.08 m | 0.10 m | 0.08 m", Practice);

    /// <summary>Stand-off of a block by size of the piece.</summary>
    public static SizeDefault BlockStandOff { get; } = new("0.10 m | 0.13 m | 0.16 m | 0.12 m", Practice);

    private static IEnumerable<KeySpec> RiggingKeys()
    {
        const string S = "rigging-point";
        yield return Word(S, "kind", "Ring (rope slides), block (rope turns a sheave) or natural union (rope slides in a crotch).", "ring", "block", "natural-union") with { Required = true };
        yield return Word(S, "bark", "Natural union: smooth or rough bark.", "smooth", "rough") with { Default = new("rough", Choice) };
        yield return Number(S, "below-cut", QuantityKind.Length, 0, 30, "Distance from the cut down to the ring, sheave or crotch when loaded.") with
        {
            BySize = new("0.3 0.2 0.5 m | 0.4 0.25 0.6 m | 0.5 0.3 0.8 m | 0.4 0.25 0.6 m", Practice),
            Computed = "by size; a natural union must say it, because it is where the fork stands",
        };
        yield return Number(S, "stand-off", QuantityKind.Length, 0, 3, "Distance of the rope's turning point from the bark, toward the fall.") with
        {
            Computed = "by size: ring 0.06 / 0.08 / 0.10 m, block 0.10 / 0.13 / 0.16 m (light, medium, heavy log; top 0.08 and 0.12 m), " + Practice + "; a natural union must say it",
        };
        yield return Range(S, "friction", QuantityKind.Number, 0, 1.5, "Friction coefficient of rope on the ring, in the union, or on a block's seized sheave.") with { Computed = "from the catalogue: ring 0.20 (0.10 to 0.30); union by bark" };
        yield return Range(S, "efficiency", QuantityKind.Fraction, 0.3, 1, "Block: tension out over tension in at half a turn, under shock.") with { Computed = "from the catalogue: 0.90 (0.75 to 0.97)" };
        yield return Number(S, "bend-diameter", QuantityKind.Length, 0.005, 2, "Diameter over which the rope bends.") with { Computed = "unknown" };

        yield return Word("sling", "configuration", "How the sling is rigged; multiplies sling.strength by the catalogue's factor.", "straight", "basket", "choker", "girth-hitch", "cow-hitch", "timber-hitch") with { Computed = "sling.strength is taken as it stands" };
        yield return Number("sling", "strength", QuantityKind.Force, 100, 5e6, "Breaking strength of the sling, straight pull.") with { Computed = "unknown" };
    }

    private static IEnumerable<KeySpec> RopeKeys()
    {
        const string S = "rope";
        yield return Text(S, "construction", "Generic construction from the catalogue, for example \"polyester 16-strand\".") with { Computed = "needed unless stiffness is given" };
        yield return Number(S, "diameter", QuantityKind.Length, 0.005, 0.04, "Diameter.") with { Required = true };
        yield return Range(S, "stiffness", QuantityKind.Force, 5e3, 2e7, "Stiffness EA: force per unit strain, secant at 10 % of breaking strength.") with { Group = "rope stiffness", Computed = "from the catalogue, factor 2 either way" };
        yield return Items(S, "stretch-curve", "The maker's elongation points, from the origin up: { strain = \"2 %\", tension = \"4 kN\" }.", Number("", "strain", QuantityKind.Fraction, 1e-4, 1, "Strain.") with { Required = true }, Number("", "tension", QuantityKind.Force, 10, 1e6, "Tension.") with { Required = true }) with { Computed = "straight line" };
        yield return Range(S, "relaxing-ratio", QuantityKind.Number, 0, 5, "Stiffness of the relaxing branch over EA: how much stiffer the rope is in a jerk.") with { Default = new("1.9", "0.9", "2.8", "this law run through the standard fall of 99 climbing ropes of 2011 (values declared after EN 892), docs/validation.md: middle 1.9, 5 to 95 % 0.9 to 2.8; nylon, applied to other ropes by judgement") };
        yield return Number(S, "relaxation-time", QuantityKind.Time, 0.01, 100, "Time constant of the relaxing branch.") with { Default = new("0.3 s", "U. Leuthaeusser (2012), Physics of climbing ropes part 3, p. 5 (nylon kernmantle)") };
        yield return Number(S, "viscous-time", QuantityKind.Time, 1e-5, 0.003, "Small regularising loss; larger values flatter the peak.") with { Default = new("2 ms", Choice) };
        yield return Range(S, "slack", QuantityKind.Length, 0, 10, "Slack in the load leg at the start.") with { BySize = new("0.2 0 0.5 m | 0.2 0 0.5 m | 0.2 0 0.6 m | 0.2 0 0.6 m", Practice) };
        yield return Number(S, "length", QuantityKind.Length, 2, 300, "Total length of the rope.") with { Group = "rope length", Computed = "by size 45 / 50 / 60 / 60 m, at least 2.5 times the height of the cut" };
        yield return Number(S, "left-at-device", QuantityKind.Length, 0, 300, "Rope on the hand side that can still pass the device.") with { Group = "rope length", Computed = "from the length" };
        yield return Text(S, "knot", "Knot at the piece, from the catalogue.") with { Computed = "running bowline, " + Practice };
        yield return Number(S, "mass-per-length", QuantityKind.MassPerLength, 0.005, 2, "Mass per length, for reports.") with { Computed = "from the catalogue" };

        const string H = "rope.hitch-take-up";
        yield return Number(H, "length", QuantityKind.Length, 0, 2, "Largest length given.") with { BySize = new("0.15 0 0.3 m | 0.15 0 0.3 m | 0.25 0 0.4 m | 0.15 0 0.3 m", Memory), Computed = "by size; 0.10 m where a half hitch stands below the running bowline" };
        yield return Number(H, "force-from", QuantityKind.Force, 0, 1e6, "Tension at which it begins.") with { BySize = new("0.5 kN | 0.7 kN | 1 kN | 0.7 kN", Memory) };
        yield return Number(H, "force-to", QuantityKind.Force, 0, 1e6, "Tension at which it is used up.") with { BySize = new("8 kN | 10 kN | 20 kN | 10 kN", Memory) };

        const string W = "rope.wraps-take-up";
        yield return Number(W, "length", QuantityKind.Length, 0, 2, "Largest length given.") with { Default = new("0.05 m", "0 m", "0.15 m", Memory) };
        yield return Number(W, "force-from", QuantityKind.Force, 0, 1e6, "Tension at which it begins.") with { BySize = new("0.5 kN | 0.7 kN | 1 kN | 0.7 kN", Memory) };
        yield return Number(W, "force-to", QuantityKind.Force, 0, 1e6, "Tension at which it is used up.") with { BySize = new("8 kN | 10 kN | 20 kN | 10 kN", Memory) };
    }

    private static IEnumerable<KeySpec> DeviceKeys()
    {
        const string S = "device";
        yield return Number(S, "wraps", QuantityKind.Turns, 0, 8, "Turns of rope on the device, in quarters.") with { Computed = "the nearest half turn at which 50 N holds the hanging piece still" };
        yield return Range(S, "friction", QuantityKind.Number, 0.01, 1, "Friction coefficient of rope on the device.") with { Group = "device friction", Computed = "from a hold test, or the catalogue: 0.22 (0.14 to 0.30)" };
        yield return Number(S, "off-face", QuantityKind.Length, -20, 20, "Distance of the device from the spar's face, toward the fall.") with { Group = "device place", Default = new("0.15 m", "0.1 m", "0.2 m", Practice) };
        yield return Number(S, "x", QuantityKind.Length, -50, 50, "Horizontal place from the spar's axis, toward the fall positive.") with { Group = "device place", Computed = "from off-face" };
        yield return Number(S, "height", QuantityKind.Length, 0, 30, "Height of the device above the ground.") with { Default = new("1 m", "0.5 m", "1.5 m", Practice) };
        yield return Flag(S, "on-spar", "True where it is fixed to the spar; false on another tree or a truck (then give x).", "true", Choice);
        yield return Number(S, "bollard-diameter", QuantityKind.Length, 0.02, 1, "Diameter of the bollard.") with { Computed = "unknown" };

        yield return Number("hold-test", "mass", QuantityKind.Mass, 5, 5000, "Mass hung at rest.") with { Computed = "no test" };
        yield return Number("hold-test", "wraps", QuantityKind.Turns, 0.25, 8, "Turns on the device in the test.") with { Computed = "no test" };
        yield return Number("hold-test", "hand", QuantityKind.Force, 1, 3000, "Pull on the hand side, by a spring scale, that just lets the mass creep down.") with { Group = "device friction", Computed = "no test" };
        yield return Number("sway-test", "swings", QuantityKind.Number, 1, 100, "Full swings timed.") with { Default = new("10", Choice) };
        yield return Number("sway-test", "time", QuantityKind.Time, 0.5, 600, "Time for these swings, with the climber where he stands in the drop.") with { Computed = "no test" };
        yield return Number("sway-test", "decay-swings", QuantityKind.Number, 1, 100, "Full swings over which the decay was watched.") with { Computed = "no decay seen" };
        yield return Number("sway-test", "amplitude-left", QuantityKind.Fraction, 0.01, 0.99, "Part of the amplitude left after them; gives the damping.") with { Computed = "no decay seen" };
        yield return Number("stretch-test", "length", QuantityKind.Length, 1, 100, "Length of rope tested.") with { Computed = "no test" };
        yield return Number("stretch-test", "mass", QuantityKind.Mass, 5, 5000, "Mass hung on it.") with { Computed = "no test" };
        yield return Number("stretch-test", "stretch", QuantityKind.Length, 0.001, 20, "How much longer it became.") with { Group = "rope stiffness", Computed = "no test" };
    }

    private static IEnumerable<KeySpec> OtherKeys()
    {
        const string S = "strength";
        yield return Number(S, "rope", QuantityKind.Force, 100, 5e6, "Breaking strength of the rope.") with { Computed = "from the catalogue" };
        yield return Number(S, "knot", QuantityKind.Fraction, 0.1, 1, "Strength left at the knot.") with { Computed = "from the catalogue" };
        yield return Number(S, "ring-bend", QuantityKind.Fraction, 0.1, 1, "Strength left over the ring's or sheave's bend.") with { Computed = "from the catalogue where rigging-point.bend-diameter is known" };
        yield return Number(S, "bollard-bend", QuantityKind.Fraction, 0.1, 1, "Strength left over the bollard's bend.") with { Computed = "from the catalogue where device.bollard-diameter is known" };
        yield return Number(S, "wet", QuantityKind.Fraction, 0.1, 1, "Factor for wet rope.") with { Default = new("1", Choice) };
        yield return Number(S, "age", QuantityKind.Fraction, 0.1, 1, "Factor for age and use.") with { Default = new("1", Choice) };
        yield return Number(S, "ring-or-block", QuantityKind.Force, 100, 5e6, "Breaking strength of the ring or block.") with { Computed = "unknown" };
        yield return Number(S, "device", QuantityKind.Force, 100, 5e6, "Breaking strength of the device or its strap.") with { Computed = "unknown" };
        yield return Number(S, "design-factor", QuantityKind.Number, 1, 50, "Your own design factor: breaking strength over allowed force.") with { Computed = "none stated" };
        yield return Flag(S, "break-rope", "True to end the run where the rope breaks.", "true", Choice);

        const string C = "computation";
        yield return Number(C, "modes", QuantityKind.Number, 1, 8, "Spar modes kept.") with { Default = new("3", Choice) };
        yield return Number(C, "elements", QuantityKind.Number, 4, 200, "Beam elements.") with { Default = new("24", Choice) };
        yield return Number(C, "end-time", QuantityKind.Time, 0.5, 60, "Longest time simulated.") with { Default = new("8 s", Choice) };
        yield return Flag(C, "stop-when-settled", "True to end the run once settled.", "true", Choice);
        yield return Number(C, "relative-tolerance", QuantityKind.Number, 1e-11, 1e-4, "Relative tolerance of the integrator.") with { Default = new("1e-6", Choice) };
        yield return Number(C, "contact-stiffness", QuantityKind.ContactStiffness, 1e4, 1e9, "Contact stiffness; strike forces follow it and nothing else.") with { Default = new("1e6 N/m^1.5", "0.3e6 N/m^1.5", "3e6 N/m^1.5", Practice) };
        yield return Number(C, "contact-damping", QuantityKind.ContactDamping, 0, 3, "Contact damping: 0.7 gives back about 0.4 of the speed at 3 m/s.") with { Default = new("0.7 s/m", "0.3 s/m", "2 s/m", Memory) };
        yield return Number(C, "contact-friction", QuantityKind.Number, 0, 1.5, "Friction coefficient where piece and stem touch.") with { Default = new("0.3", "0.2", "0.5", Memory) };
        yield return Number(C, "gravity", QuantityKind.Acceleration, 9.7, 9.9, "Gravity.") with { Default = new("9.80665 m/s2", "standard gravity, by definition") };
        yield return Number(C, "air-density", QuantityKind.Density, 0, 2, "Density of air.") with { Default = new("1.2 kg/m3", Memory) };

        const string O = "obstacle";
        yield return Text(O, "name", "What it is.") with { Required = true };
        yield return Number(O, "x-from", QuantityKind.Length, -100, 100, "Near side from the spar's axis.") with { Required = true };
        yield return Number(O, "x-to", QuantityKind.Length, -100, 100, "Far side.") with { Required = true };
        yield return Number(O, "z-from", QuantityKind.Length, 0, 100, "Lower edge above the ground.") with { Default = new("0 m", Choice) };
        yield return Number(O, "z-to", QuantityKind.Length, 0, 100, "Upper edge above the ground.") with { Required = true };
    }

    private static IEnumerable<KeySpec> CatchKeys()
    {
        const string S = "catch";
        yield return Text(S, "name", "Name, as in file names; letters, digits and hyphens.") with { Computed = "its kind" };
        yield return Word(S, "kind", "Hard stop (locked off), held (full hand from the start) or let run (rope given, then braked).", "hard-stop", "held", "let-run") with { Required = true };
        yield return Number(S, "wraps", QuantityKind.Turns, 0, 8, "Turns on the device for this catch.") with { Computed = "device.wraps" };
        yield return Number(S, "light", QuantityKind.Force, 0, 3000, "Hand force before the hand reacts.") with { Default = new("30 N", "10 N", "60 N", Practice) };
        yield return Number(S, "grip", QuantityKind.Force, 1, 3000, "Largest force the hand can hold (one hand 50 to 150 N, two hands 200 to 400 N).") with { Default = new("250 N", "120 N", "350 N", "two hands 200 to 400 N, common practice, no source; a hand on running rope held about 180 N, squeeze strength averages 330 to 540 N") };
        yield return Items(S, "brake", "Braking plan: hand force against rope run since braking began.", Number("", "run", QuantityKind.Length, 0, 100, "Rope run since braking began.") with { Required = true }, Number("", "force", QuantityKind.Force, 0, 3000, "Hand force.") with { Required = true }) with
        {
            Computed = "let run: the light hand for the first 0.5 m, rising to the grip at 2 m; held: the grip",
        };
        yield return Number(S, "brake-from", QuantityKind.Length, 0, 100, "Rope run at which braking is meant to begin.") with { Default = new("0 m", Choice) };
        yield return Number(S, "force-rate", QuantityKind.ForceRate, 1, 1e5, "Fastest rise of the hand's force.") with { Default = new("500 N/s", Practice) };
        yield return Word(S, "cue", "What the hand reacts to.", "hinge-breaks", "load-leg-taut", "device-runs") with { Default = new("hinge-breaks", Choice) };
        yield return Number(S, "reaction-time", QuantityKind.Time, 0, 10, "Reaction time after the cue; 0 where the catch is set beforehand, about 1 s for a surprised person.") with { Default = new("0 s", Choice) };
        yield return Number(S, "hanging-rope-weight", QuantityKind.Force, 0.5, 1000, "Weight of the rope that hangs on the hand side; the hand force never falls below it.") with { Default = new("10 N", Practice) };
        yield return Number(S, "snag-after", QuantityKind.Length, 0, 100, "Mishap: the hand side snags after this much rope run.") with { Computed = "no snag" };
        yield return Number(S, "wraps-change-at", QuantityKind.Time, 0, 60, "Mishap: time after hinge break at which a wrap jumps off.") with { Computed = "no change" };
        yield return Number(S, "wraps-after", QuantityKind.Turns, 0, 8, "Mishap: wraps then.") with { Computed = "no change" };
        yield return Number(S, "hand-lost-at", QuantityKind.Time, 0, 60, "Mishap: time after hinge break at which the hand is lost.") with { Computed = "never" };
        yield return Number(S, "grip-early-at", QuantityKind.Time, 0, 60, "Mishap: time after hinge break at which the hand grips in full.") with { Computed = "never" };
    }
}
