using System.Globalization;
using System.Text.RegularExpressions;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// Runs every verification case, and holds docs/verification.md and the theory pages' references to it in step. To renew them run
/// DROPSIM_WRITE_DOCS=1 dotnet test tests/DropSim.Validation -c Release --filter FullyQualifiedName~VerificationTests
/// and look at the difference.
/// </summary>
public sealed class VerificationTests
{
    public static TheoryData<string> Ids => [.. VerificationBook.Cases.Select(c => c.Id)];

    private static bool Renew => Environment.GetEnvironmentVariable("DROPSIM_WRITE_DOCS") == "1";

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_case_gives_what_its_formula_gives(string id)
    {
        var @case = VerificationBook.Cases.Single(c => c.Id == id);
        var points = VerificationBook.Points(@case);

        points.Should().NotBeEmpty();
        foreach (var point in points)
        {
            @case.Share(point).Should().BeLessThanOrEqualTo(1, string.Create(
                CultureInfo.InvariantCulture,
                $"{id} {point.Where}: expected {point.Expected:r}, got {point.Got:r}, allowed {@case.Allowed(point):g3} ({@case.Why})"));
        }
    }

    [Fact]
    public void Ids_are_unique_and_every_case_allows_something_for_a_reason()
    {
        VerificationBook.Cases.Select(c => c.Id).Should().OnlyHaveUniqueItems();
        VerificationBook.Cases.Should().OnlyContain(c => Regex.IsMatch(c.Id, "^V-[0-9]{3,4}$") && c.Why.Length > 5 && c.Source.Length > 5);
        VerificationBook.Cases.Should().OnlyContain(c => c.Absolute >= 0 && c.Relative >= 0 && c.Absolute + c.Relative > 0);
    }

    [Fact]
    public void The_page_is_what_the_cases_give() => InStep(Path.Combine(Docs.Folder, "verification.md"), _ => VerificationPage.Markdown());

    [Theory]
    [MemberData(nameof(Pages))]
    public void A_page_of_equations_names_the_cases_that_check_it(string page) => InStep(
        Path.Combine(Docs.Folder, page), text =>
        {
            // The line stays where it stands; a page without it gets it at its end.
            var lines = text.TrimEnd('\n').Split('\n').ToList();
            var at = lines.FindIndex(l => l.StartsWith(VerificationPage.CheckedBy, StringComparison.Ordinal));
            var line = VerificationPage.CheckedByLine(page);
            if (at < 0)
            {
                lines.AddRange(["", line]);
            }
            else
            {
                lines[at] = line;
            }

            return string.Join('\n', lines) + "\n";
        });

    /// <summary>Every page that the verification page has a section for.</summary>
    public static TheoryData<string> Pages => [.. VerificationPage.Pages];

    private static void InStep(string path, Func<string, string> what)
    {
        var committed = File.Exists(path) ? File.ReadAllText(path) : "";
        var wanted = what(committed);
        if (Renew && committed != wanted)
        {
            File.WriteAllText(path, wanted);
            committed = File.ReadAllText(path);
        }

        committed.Should().Be(wanted, "the page is generated: run these tests with DROPSIM_WRITE_DOCS=1");
    }
}
