using System.Globalization;
using System.Text;

namespace DropSim.Validation.ClosedForm;

/// <summary>docs/verification.md as text.</summary>
internal static class VerificationPage
{
    /// <summary>How the line of a theory page begins that names its cases.</summary>
    public const string CheckedBy = "Checked by:";

    private const string Head = """
        # Verification

        Are the equations solved right? Each row compares DropSim with an answer that is known without it: a closed form, or a solution by other
        means. Whether the equations describe real trees and ropes is another question, [validation](validation.md), and none of these rows answers it.

        Each row is a test: it is worked out afresh by `dotnet test`, and fails where the difference is larger than what is allowed. This page is written by those tests,
        and a test fails where it differs from what they give. To renew it after a change:

            DROPSIM_WRITE_DOCS=1 dotnet test tests/DropSim.Validation -c Release --filter FullyQualifiedName~VerificationTests

        How to read a row. *Expected* is what the formula gives, *got* what the code gives, both rounded to a tenth of what is allowed; *difference* is got less expected, with one digit,
        or "under" a bound where it is too small to matter. Where a case has several points the worst is shown (the one that comes nearest to what is allowed), and all of them at the [end](#all-points). "Whole program" says that a `DropInput` went through
        `DropSimulator.Run` and the number is one of its measures or curves; "whole system" that all laws together were integrated from a state
        set by hand; else one component is called. Sources carry the grade of [references](references.md): read, abstract, secondary, by name. *Derived here* means that the derivation stands in the row or on the page that is linked.


        """;

    // Written by hand after a run that takes hours on a busy machine: the only numbers of the page that are not worked out afresh.
    private const string Watch = """
        ## Would the tests notice?

        Mutation testing puts small faults into the code, one at a time, and asks whether a test fails. The integrator: of 1,430 in the code that runs in every step, all tried, the tests of its
        own folder notice 1,169, **82 %**. The model (5,006 mutants): of a random sample of 300 its tests, less the slow ones,
        notice 260, **87 %** (82 to 90 %). The command:

            tests/mutation/run.sh Integration /tmp/mutation
            tests/mutation/run.sh Model /tmp/mutation 300 11

        Not part of CI. How it is done, for which version these numbers hold, and what survived: [mutation testing](mutation.md).


        """;

    private static readonly (string Page, string Title)[] _sections =
    [
        ("theory/piece.md", "The piece"), ("theory/hinge.md", "The hinge"), ("theory/rope.md", "The rope"),
        ("theory/rigging-point.md", "The rigging point"), ("theory/friction-device.md", "The friction device"), ("theory/hand.md", "The hand"),
        ("theory/friction-network.md", "The friction network"), ("theory/spar.md", "The spar"), ("theory/contact.md", "Contact"),
        ("theory/ledger.md", "The ledger: energy by place"), ("theory/measures.md", "Measures"),
        ("theory/climber-comfort.md", "Climber's comfort"), ("theory/ranges.md", "Ranges"), ("numerics.md", "The integrator"),
        ("theory/README.md", "The whole chain"),
    ];

    /// <summary>The pages of equations that have a section, from docs/.</summary>
    public static IEnumerable<string> Pages => _sections.Select(s => s.Page);

    public static string Markdown()
    {
        var page = new StringBuilder(Head);
        var left = VerificationBook.Cases.ToList();
        foreach (var (file, title) in _sections)
        {
            var cases = left.Where(c => c.Page == file).ToArray();
            left.RemoveAll(c => c.Page == file);
            Line(page, $"## {title}\n\nEquations: [{file}]({file}).\n");
            Line(page, "| id | what | formula and source | expected | got | difference | allowed, and why |");
            Line(page, "|---|---|---|---|---|---|---|");
            foreach (var @case in cases)
            {
                Line(page, Row(@case));
            }

            Line(page, "");
        }

        if (left.Count > 0)
        {
            throw new InvalidOperationException($"Case {left[0].Id} names the page {left[0].Page}, which has no section.");
        }

        page.Append(Watch);
        Line(page, "## All points\n\nOf cases with more than one point.\n\n| id | at | expected | got |\n|---|---|---|---|");
        foreach (var @case in VerificationBook.Cases.Where(c => VerificationBook.Points(c).Count > 1))
        {
            foreach (var point in VerificationBook.Points(@case))
            {
                var allowed = @case.Allowed(point);
                Line(page, $"| {@case.Id} | {Cell(point.Where)} | {SteadyNumber.Value(point.Expected, allowed)} | {SteadyNumber.Value(point.Got, allowed)} |");
            }
        }

        return page.ToString();
    }

    /// <summary>The line with which a page of equations names the cases that check it.</summary>
    /// <param name="page">The page, from docs/.</param>
    public static string CheckedByLine(string page)
    {
        var up = string.Concat(Enumerable.Repeat("../", page.Count(c => c == '/')));
        var links = VerificationBook.Cases.Where(c => c.Page == page)
            .Select(c => $"[{c.Id}]({up}verification.md#{Anchor(c)})").ToArray();
        return links.Length == 0
            ? throw new InvalidOperationException($"No verification case names {page}.")
            : $"{CheckedBy} {string.Join(", ", links)} ([verification]({up}verification.md)).";
    }

    private static string Row(VerificationCase @case)
    {
        var points = VerificationBook.Points(@case);
        var worst = VerificationBook.Worst(@case);
        var allowed = @case.Allowed(worst);
        var unit = @case.Unit.Length == 0 ? "" : " " + @case.Unit;
        var what = Cell(@case.What) + (points.Count == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $" (worst of {points.Count}: {worst.Where})"));
        return $"| <a id=\"{Anchor(@case)}\"></a>{@case.Id} | {what} | {Cell(@case.Formula)}. {Cell(@case.Source)} | "
            + $"{SteadyNumber.Value(worst.Expected, allowed)}{unit} | {SteadyNumber.Value(worst.Got, allowed)}{unit} | "
            + $"{SteadyNumber.Difference(worst.Got - worst.Expected, allowed, worst.Expected)} | {SteadyNumber.Digits(allowed, 2)}: {Cell(@case.Why)} |";
    }

    /// <summary>Text of a cell: a bar would end it.</summary>
    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);

    private static string Anchor(VerificationCase @case) => @case.Id.ToLowerInvariant();

    private static void Line(StringBuilder page, string line) => page.Append(line).Append('\n');
}
