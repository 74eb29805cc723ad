using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>What got worse, in words, from the facts of a comparison: the ends of the two drops first, then what can be measured.</summary>
internal static class EndComparisonText
{
    /// <summary>Two landings side by side: "Both hit shed roof, at 15 m/s (24 kJ) with hand lost and at 9.1 m/s (8.7 kJ) with let run."</summary>
    /// <param name="found">The comparison; both drops came down.</param>
    /// <param name="nameA">What the first is called.</param>
    /// <param name="nameB">What the second is called.</param>
    /// <param name="units">Units of the text.</param>
    public static string Landings(DropComparison found, string nameA, string nameB, UnitSystem units)
    {
        var (a, b) = (found.First, found.Second);
        var alike = found.Speed == WorseSide.Neither && found.Energy == WorseSide.Neither ? ": about the same" : "";
        return found.LandOnDifferentThings
            ? $"With {nameA} the piece hits {Thing(a)} {How(a, units)}; with {nameB} it hits {Thing(b)} {How(b, units)}."
            : $"Both hit {Thing(a)}: {How(a, units)} with {nameA}, {How(b, units)} with {nameB}{alike}.";
    }

    /// <summary>What is worse with which of the two.</summary>
    /// <param name="found">The comparison.</param>
    /// <param name="a">The first drop.</param>
    /// <param name="b">The second drop.</param>
    /// <param name="nameA">What the first is called.</param>
    /// <param name="nameB">What the second is called.</param>
    /// <param name="units">Units of the text.</param>
    public static IEnumerable<ComparisonPart> Price(DropComparison found, DropRun a, DropRun b, string nameA, string nameB, UnitSystem units)
    {
        string[] worse =
        [
            .. found.EndIsWorseWithFirst ? [End(found, found.First, found.Second, nameB, found.Speed == WorseSide.First, found.Energy == WorseSide.First, units)] : Array.Empty<string>(),
            .. found.WorseWithFirst.Select(id => $"{Label(id)} {Format.Value(a[id], units)} against {Format.Value(b[id], units)}"),
        ];
        var open = found.Open.Count == 0 ? "" : $" Which of the two is worse cannot be told, because a run was cut short, for: {string.Join("; ", found.Open.Select(Label))}.";
        if (worse.Length > 0)
        {
            yield return new(ComparisonPartKind.Worse, $"What got worse with {nameA} than with {nameB}", string.Join("; ", worse) + "." + open);
        }
        else if (!found.EndsDiffer)
        {
            var ends = found.BothLand ? "no harder landing, and " : DropComparison.IsBad(found.First) ? "the same kind of end, and " : "";
            yield return new(ComparisonPartKind.Worse, $"What got worse with {nameA}",
                (found.Open.Count > 0 ? $"{ends}no measure of which it can be told." : $"{ends}none of the measures looked at by more than {DropComparison.Noticeable * 100:0} %.") + open);
        }
        else if (open.Length > 0)
        {
            yield return new(ComparisonPartKind.Worse, "What stays open", open.TrimStart());
        }

        if (found.EndIsWorseWithSecond)
        {
            yield return new(ComparisonPartKind.Worse, $"What got worse with {nameB} than with {nameA}",
                End(found, found.Second, found.First, nameA, found.Speed == WorseSide.Second, found.Energy == WorseSide.Second, units) + ".");
        }
    }

    /// <summary>What is hit, as it stands in a sentence.</summary>
    public static string Thing(RunEnd end) => end.Kind == EndKind.Ground ? "the ground" : end.Obstacle?.Name ?? "an obstacle";

    /// <summary>"at 9.1 m/s with 8.7 kJ".</summary>
    public static string How(RunEnd end, UnitSystem units) =>
        $"at {Format.Quantity(end.Speed, "m/s", units)}" + (double.IsFinite(end.Energy) ? $" with {Format.Quantity(end.Energy, "J", units)}" : "");

    private static string End(DropComparison found, RunEnd worse, RunEnd other, string nameOther, bool faster, bool harder, UnitSystem units)
    {
        if (found.OutcomesDiffer)
        {
            return $"{Format.Ending(worse, units)}{(worse.Lands && double.IsFinite(worse.Energy) ? $" with {Format.Quantity(worse.Energy, "J", units)}" : "")} (with {nameOther}: {(other.IsHeld ? "the rope holds it" : Format.Ending(other, units))})";
        }

        string[] parts =
        [
            faster ? $"at {Format.Quantity(worse.Speed, "m/s", units)} instead of {Format.Quantity(other.Speed, "m/s", units)}" : "",
            harder ? $"with {Format.Quantity(worse.Energy, "J", units)} instead of {Format.Quantity(other.Energy, "J", units)}" : "",
        ];
        return $"the piece hits {Thing(worse)} {string.Join(", ", parts.Where(p => p.Length > 0))}";
    }

    private static string Label(string id) => id switch
    {
        MeasureIds.RopeRun => "rope run",
        MeasureIds.Room => "room left",
        MeasureIds.RopeSpeed => "speed of rope through the device",
        MeasureIds.RopeHeat => "heat in the rope at the device",
        MeasureIds.HandForce => "force the hand must hold",
        MeasureIds.StrikeEnergy => "strongest strike on the spar",
        MeasureIds.RiggingPointForce => "force on the rigging point",
        MeasureIds.ClimberMovement => "movement at the climber's feet",
        _ => throw new ArgumentOutOfRangeException(nameof(id)),
    };
}
