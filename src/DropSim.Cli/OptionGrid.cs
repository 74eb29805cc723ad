using System.Globalization;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>Which settings are looked at: what a crew can change between one cut and the next.</summary>
/// <param name="Lengths">Lengths of the piece, m.</param>
/// <param name="Changes">Limits and other values changed by options.</param>
internal sealed record OptionGrid(IReadOnlyList<double> Lengths, IReadOnlyList<KeyChange> Changes)
{
    /// <summary>Lengths tried where nobody asks, as parts of the file's: none longer.</summary>
    private static readonly double[] Parts = [1, 0.7, 0.4];

    private static readonly string[] MassKeys = ["piece.mass", "piece.weighed"];

    /// <summary>Shortest log tried, m.</summary>
    private const double ShortestLog = 0.3;

    /// <summary>The rigging point closer to the cut by this, where it then is not nearer than the second number, m: room for the sling. Common practice, no source.</summary>
    private const double Closer = 0.15, Closest = 0.2;

    /// <summary>Rope given before the brake, beyond the file's plan, m. Choice of this program.</summary>
    private const double MoreRun = 0.5;

    /// <summary>Width of a band of turns that can be told apart without a hold test. Choice of this program.</summary>
    private const double BandWidth = 0.5;

    /// <summary>With a hold test, turns on either side of the plan's in steps of a quarter.</summary>
    private const double TestedReach = 0.75;

    /// <summary>Lengths tried for a piece.</summary>
    /// <param name="piece">The file's piece: a top has one length.</param>
    public static IReadOnlyList<double> LengthsOf(PieceInput piece) =>
        piece.Kind == PieceKind.Top ? [piece.Length] : [.. Parts.Select(p => Math.Round(p * piece.Length, 2)).Where(l => l >= ShortestLog).Distinct()];

    /// <summary>Builds every combination that can be built.</summary>
    /// <param name="draft">The file.</param>
    /// <param name="scenario">As the file has it.</param>
    /// <param name="refused">Why some could not be built, each reason once.</param>
    public List<OptionSetting> Build(ScenarioDraft draft, Scenario scenario, out IReadOnlyList<string> refused)
    {
        var first = scenario.Cases[0];
        var reasons = new List<string>();
        var settings = new List<OptionSetting>();
        foreach (var length in Lengths)
        {
            foreach (var kind in Kinds(first.Input.RiggingPoint.Kind))
            {
                foreach (var below in Distances(first.Input.RiggingPoint))
                {
                    foreach (var slack in new[] { first.Input.Rope.Slack, 0 }.Distinct())
                    {
                        var changes = new List<KeyChange>(Changes);
                        changes.AddRange(Piece(first, length));
                        Change(changes, "rigging-point.kind", kind == first.Input.RiggingPoint.Kind, kind == RiggingPointKind.Block ? "block" : "ring");
                        Number(changes, "rigging-point.below-cut", below, first.Input.RiggingPoint.BelowCut);
                        Number(changes, "rope.slack", slack, first.Input.Rope.Slack);
                        var filed = kind == first.Input.RiggingPoint.Kind && below == first.Input.RiggingPoint.BelowCut && slack == first.Input.Rope.Slack;
                        var read = draft.Build([.. changes.Select(c => c with { Setup = first.Setup })]);
                        if (read.Scenario is not { } built)
                        {
                            reasons.AddRange(read.Problems.Select(p => p.ToString()));
                            continue;
                        }

                        foreach (var dropCase in built.Cases.Where(c => c.Setup == first.Setup && !IsMishap(c.Input.Catch)))
                        {
                            settings.AddRange(WithWraps(dropCase, draft.WrapsOf(dropCase), filed));
                        }
                    }
                }
            }
        }

        refused = [.. reasons.Distinct()];
        return settings;
    }

    private static IEnumerable<OptionSetting> WithWraps(DropCase dropCase, WrapsBand band, bool filed)
    {
        if (dropCase.Input.Catch.Kind == CatchKind.HardStop)
        {
            // Locked off, the turns do not matter.
            yield return new(dropCase, dropCase.Input.Device.Wraps, dropCase.Input.Device.Wraps, filed);
            yield break;
        }

        foreach (var more in new[] { 0, MoreRun })
        {
            var plan = dropCase with { Input = dropCase.Input with { Catch = dropCase.Input.Catch with { BrakeFrom = dropCase.Input.Catch.BrakeFrom + more } } };
            if (band.Tested)
            {
                for (var turns = Math.Max(0.25, band.Planned - TestedReach); turns <= band.Planned + TestedReach; turns += 0.25)
                {
                    yield return new(plan with { Input = plan.Input with { Device = plan.Input.Device with { Wraps = turns } } }, turns, turns, filed && more == 0);
                }

                continue;
            }

            for (var low = Math.Max(BandWidth, Math.Floor(band.Low / BandWidth) * BandWidth); low < band.High; low += BandWidth)
            {
                yield return new(plan, low, low + BandWidth, filed && more == 0);
            }
        }
    }

    /// <summary>A shorter piece from the same cut: it keeps its taper, and a mass that was given goes with its volume.</summary>
    private static IEnumerable<KeyChange> Piece(DropCase first, double length)
    {
        var piece = first.Input.Piece;
        if (length == piece.Length)
        {
            yield break;
        }

        double At(double along) => piece.ButtDiameter + ((piece.TipDiameter - piece.ButtDiameter) * along / piece.Length);
        yield return KeyChange.Of("piece.length", length);
        yield return KeyChange.Of("piece.tip-diameter", At(length));
        bool Given(string path) => first.Notes.Any(n => n.Path == path && n.Given);
        if (Given("piece.middle-diameter") || Given("piece.middle-girth"))
        {
            yield return KeyChange.Of("piece.middle-diameter", At(length / 2));
        }

        foreach (var mass in MassKeys.Where(Given))
        {
            var part = PieceEstimate.Log(piece.ButtDiameter, At(length), length, 1).Mass / PieceEstimate.Log(piece.ButtDiameter, piece.TipDiameter, piece.Length, 1).Mass;
            yield return KeyChange.Of(mass, piece.Mass * part);
        }

        if (Given("piece.balance-point"))
        {
            yield return KeyChange.Of("piece.balance-point", piece.CentreOfGravity * length / piece.Length);
        }
    }

    private static IEnumerable<RiggingPointKind> Kinds(RiggingPointKind filed) => filed switch
    {
        RiggingPointKind.NaturalUnion => [filed],
        RiggingPointKind.Block => [filed, RiggingPointKind.Ring],
        _ => [filed, RiggingPointKind.Block],
    };

    /// <summary>The file's distance, and one closer to the cut where a sling still has room.</summary>
    private static IEnumerable<double> Distances(RiggingPointInput point)
    {
        var closer = Math.Round(point.BelowCut - Closer, 3);
        return point.Kind == RiggingPointKind.NaturalUnion || closer < Closest ? [point.BelowCut] : [point.BelowCut, closer];
    }

    private static bool IsMishap(CatchInput held) =>
        held.SnagAfterRun is not null || held.WrapsChangeTime is not null || held.HandLostTime is not null || held.GripEarlyTime is not null;

    private static void Change(List<KeyChange> changes, string path, bool same, string text)
    {
        if (!same)
        {
            changes.Add(new(path, text));
        }
    }

    private static void Number(List<KeyChange> changes, string path, double value, double filed)
    {
        if (value != filed)
        {
            changes.Add(KeyChange.Of(path, value));
        }
    }
}
