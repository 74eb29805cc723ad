using DropSim.Model;

namespace DropSim.Scenarios.Building;

/// <summary>Whether a stated strength fits a rope's diameter.</summary>
internal static class RopeChecks
{
    /// <summary>Strength over diameter squared beyond the catalogue's weakest or strongest rope by these factors is told. Choice of this model: most of the catalogue is from memory, 30 % either way.</summary>
    private const double OddlyWeak = 0.5, OddlyStrong = 1.5;

    /// <summary>More than this many times the catalogue's strongest rope of that diameter is refused; a weak one never is, because ropes grow old. Choice of this model.</summary>
    private const double TooStrong = 3;

    /// <summary>A strength that the file states.</summary>
    /// <param name="values">The case.</param>
    /// <param name="catalogue">Ropes to compare with.</param>
    /// <param name="diameter">Diameter, m.</param>
    public static void Strength(CaseValues values, Catalogue catalogue, double diameter)
    {
        const string Path = "strength.rope";
        if (values.Given(Path) is not { } given)
        {
            return;
        }

        double square = diameter * diameter;
        double weakest = catalogue.Ropes.Min(r => r.BreakingStrength / (r.Diameter * r.Diameter)) * square;
        double strongest = catalogue.Ropes.Max(r => r.BreakingStrength / (r.Diameter * r.Diameter)) * square;
        if (given.Number > TooStrong * strongest)
        {
            values.Problem(Path, $"{CaseValues.Text(given.Number / 1000, "kN")} for a rope of {CaseValues.Text(diameter * 1000, "mm")}",
                $"a strength that fits the diameter: ropes of the catalogue as thick bear {CaseValues.Text(Math.Round(weakest / 1000), "kN")} to {CaseValues.Text(Math.Round(strongest / 1000), "kN")}. Check both");
        }
        else if (given.Number > OddlyStrong * strongest)
        {
            values.Remarks.Add(new Remark($"The rope is stated to bear {Math.Round(given.Number / strongest, 1)} times as much as the strongest of its thickness in the catalogue: check diameter and strength."));
        }
        else if (given.Number < OddlyWeak * weakest)
        {
            values.Remarks.Add(new Remark($"The rope is stated to bear {Math.Round(100 * given.Number / weakest)} % of what the weakest of its thickness in the catalogue bears: check diameter and strength."));
        }
    }
}
