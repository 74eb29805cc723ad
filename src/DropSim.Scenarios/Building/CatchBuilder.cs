using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Building;

/// <summary>What is done with the rope, mishaps included.</summary>
internal static class CatchBuilder
{
    public static CatchInput Build(CaseValues values)
    {
        string kind = values.Word("catch.kind");
        CatchKind catchKind = kind switch { "held" => CatchKind.Held, "let-run" => CatchKind.LetRun, _ => CatchKind.HardStop };
        double light = values.Take("catch.light").Value;
        double grip = values.Take("catch.grip").Value;
        double? wrapsAt = values.Optional("catch.wraps-change-at");
        double? wrapsAfter = values.Optional("catch.wraps-after");
        if (wrapsAt is null != wrapsAfter is null)
        {
            values.Problem(wrapsAt is null ? "catch.wraps-change-at" : "catch.wraps-after", "nothing", "both wraps-change-at and wraps-after, or neither");
        }

        if (light > grip)
        {
            values.Problem("catch.light", "a light hand stronger than the grip", $"at most the grip, {CaseValues.Text(grip, "N")}");
        }

        if (catchKind == CatchKind.HardStop)
        {
            foreach (string mishap in new[] { "catch.brake", "catch.snag-after", "catch.wraps-change-at", "catch.hand-lost-at", "catch.grip-early-at" })
            {
                if (values.Has(mishap))
                {
                    values.Problem(mishap, "a hand's doing in a hard stop", "kind held or let-run: locked off, the hand does nothing");
                }
            }
        }

        return new CatchInput
        {
            Kind = catchKind,
            LightForce = light,
            GripForce = grip,
            Brake = Brake(values, catchKind, light, grip),
            BrakeFrom = values.Take("catch.brake-from").Value,
            ForceRate = values.Take("catch.force-rate").Value,
            Cue = values.Word("catch.cue") switch { "load-leg-taut" => Cue.LoadLegTaut, "device-runs" => Cue.DeviceRuns, _ => Cue.HingeBreaks },
            ReactionTime = values.Take("catch.reaction-time").Value,
            HangingRopeWeight = values.Take("catch.hanging-rope-weight").Value,
            SnagAfterRun = values.Optional("catch.snag-after"),
            WrapsChangeTime = wrapsAt,
            WrapsAfterChange = wrapsAfter ?? 0,
            HandLostTime = values.Optional("catch.hand-lost-at"),
            GripEarlyTime = values.Optional("catch.grip-early-at"),
        };
    }

    /// <summary>The catches of a scenario that names none: a hard stop and the default let run.</summary>
    public static IEnumerable<(string Name, GivenValues Values)> Defaults()
    {
        KeySpec kind = KeyTable.ByPath["catch.kind"];
        foreach (string word in new[] { "hard-stop", "let-run" })
        {
            GivenValues values = new();
            values.Add(new GivenValue(kind, 0) { Word = word });
            yield return (word, values);
        }
    }

    private static IReadOnlyList<BrakePoint> Brake(CaseValues values, CatchKind kind, double light, double grip)
    {
        if (values.Given("catch.brake") is not { } given)
        {
            if (kind == CatchKind.LetRun)
            {
                // The light hand for the first 0.5 m, rising to the grip at 2 m.
                BrakePoint[] plan = [new(0, light), new(0.5, light), new(2, Math.Max(light, grip))];
                values.Notes.Add(new InputNote("catch.brake", Text(plan), "", false, KeyTable.Practice));
                return plan;
            }

            return [new BrakePoint(0, grip)];
        }

        List<BrakePoint> points = [.. given.Items.Select(i => new BrakePoint(i["run"], i["force"]))];
        for (int i = 1; i < points.Count; i++)
        {
            if (points[i].Run <= points[i - 1].Run)
            {
                values.Problem("catch.brake", $"runs that do not grow (the {CaseValues.Text(i + 1, "")}. point)", "growing runs");
                break;
            }
        }

        values.Notes.Add(new InputNote("catch.brake", Text(points), "", true, CaseValues.Line(given)));
        return points;
    }

    private static string Text(IEnumerable<BrakePoint> plan) =>
        string.Join("; ", plan.Select(p => $"{CaseValues.Text(p.Run, UnitTable.For(QuantityKind.Length).Si)}: {CaseValues.Text(p.Force, "N")}"));
}
