using DropSim.Model;
using DropSim.Studies;
using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>The page's last sections: what was never measured, and how far each headline number may be trusted.</summary>
internal static class TrustSection
{
    private static readonly (string File, string Name)[] s_cases =
        [("medium-log", "base-hard-stop"), ("medium-log", "base-let-run"), ("small-top", "base-hard-stop"), ("small-top", "base-let-run")];

    public static string Text()
    {
        var runs = s_cases.AsParallel().AsOrdered().Select(c => RangeStudy.Compute(Drops.Shipped(c.File, c.Name), 1).Run).ToArray();
        string Show(DropRun run, string id)
        {
            var m = run[id];
            string Of(double value) => m.Unit == "N" && Math.Abs(value) < 1000 ? N(value, 0) + " N" : m.Unit == "N" ? Kn(value) : N(value, 2) + " m";
            var (lowBound, highBound) = !m.RangeCutShort ? ("", "") : m.Worse == Worse.Smaller ? ("at most ", "") : ("", "at least ");
            return double.IsFinite(m.Value) && m is { Low: { } low, High: { } high } ? $"{Of(m.Value)} ({lowBound}{Of(low)} to {highBound}{Of(high)})" : "no range";
        }

        var input = Drops.Shipped("medium-log", "base-hard-stop").Input;
        var bare = Drops.Rigging(input with { Rope = input.Rope with { HitchTakeUp = TakeUpInput.None, WrapsTakeUp = TakeUpInput.None } }) / runs[0][MeasureIds.RiggingPointForce].Value;
        string[] Row(string id, string what) => [what, .. runs.Select(r => Show(r, id))];
        return $"""
            ## What has no published measurement

            Nothing published was found, or was readable, for any of these; the program's numbers for them rest on mechanics and on verification alone:

            * a whole drop with its traces: force at the rigging point and in both legs over time, against known mass, rope, friction and sizes;
            * stretch, relaxing stiffness and damping of polyester rigging rope under shock (the constants are nylon climbing rope's; catalogue stiffness is from memory, a factor 2 either way);
            * rope that knots and wraps give while they tighten (take-up): from memory, beside tied loops of thin cord;
            * friction of rope on a bollard while it runs fast under load; efficiency of a block under shock;
            * hand forces of ground workers in a run, and how fast they come;
            * the spar's movement and acceleration at a climber in a drop; the climber's own movement;
            * impact of a piece on the spar: contact stiffness and damping;
            * the angle at which a hinge breaks, and the force that it carries until then;
            * root stiffness of stems used as spars;
            * mass and branch distribution of tops: estimates, +-40 %;
            * heat of rope and bollard in one drop.

            Who has measured one of these can write it down as a scenario with a `[review]` and compare.

            ## How far each headline number may be trusted

            Central value and, in brackets, smallest and largest over the stated ranges of the inputs (shipped scenarios):

            {Table(["measure", .. s_cases.Select(c => $"{c.File}, {c.Name.Replace("base-", "", StringComparison.Ordinal).Replace('-', ' ')}")],
            [
                Row(MeasureIds.RiggingPointForce, "force at the rigging point"), Row(MeasureIds.Room, "room left under the piece"), Row(MeasureIds.ClimberMovement, "movement at the climber's feet"),
                Row(MeasureIds.HandForce, "what the hand must hold"), Row(MeasureIds.RopeRun, "rope run"),
            ])}
            These brackets are the inputs' doing, not the model's. What the model itself may be wrong by is a judgement from the comparisons above, none of which is a whole drop:

            | measure | model error, judged | on what grounds | advice |
            |---|---|---|---|
            | force at the rigging point, leg tensions | rope and friction laws with known constants: a few per cent (one laboratory fall, nylon). A whole drop with a straight rope curve: 30 % low is possible at large forces (Weber; short links: {Change(LanyardSection.Beyond.Average(b => b.Straight))} on average, {Change(LanyardSection.Beyond.Min(b => b.Straight))} at worst); take-up, from memory, matters as much (medium-log locked off without any: {N(bare, 1)} times). Say a factor 1.5 either way | measured fall; standard fall; short links; Weber; ranges | two digits at most, the worst of the range first; a hard stop reads as an upper value only where take-up is set to none; never the third digit |
            | room left under the piece | geometry: centimetres. Rope run: see there. Stretch: a factor 2 in stiffness. In a let run as wide as rope run | bench friction; ranges | one decimal of a metre, the smallest of the range; where the range reaches zero the piece may land, whatever the central value says |
            | movement at the climber's feet | frequency of a bare stem right in form, never compared in size. A factor 2 where a sway test was done; where the root is guessed, the brackets above and more | Moore and Maguire; ranges | one digit; do a sway test; accelerations in strikes are indications only and stay in the files |
            | what the hand must hold | exponential in a coefficient that the bench scatters by 25 % and more: a factor 2 or 3 at 2 to 3 turns | bench friction | one digit and the range; a hold test on the very rope, point and device narrows it; a planned hand force says nothing about what a surprised person holds |
            | rope run | as the hand: a small change of friction turns a catch into a landing | bench friction; light-log-many-wraps | one digit and the range; never the central value alone |
            | spar stress, margins | as the force, times unknown wood and unseen decay | Kane, Brena, Autio: trend missed | one digit; none at all where the stem's condition is not known to be sound |
            | strikes, climber's acceleration, heat | no measurement at all | none | order of magnitude; for comparing two ways of rigging the same drop at most |

            Comparisons of two ways to rig the same drop share most of these errors and are better founded than either number: still look whether the two ranges part.
            """;
    }
}
