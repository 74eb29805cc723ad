using System.Globalization;
using System.Text.RegularExpressions;
using DropSim.Drawing;
using DropSim.Reporting.Charts;
using SkiaSharp;

namespace DropSim.Validation.Measured;

/// <summary>
/// The committed page and its pictures are what the program gives now. To renew both, run these tests with DROPSIM_WRITE_DOCS=1
/// and look at the difference.
/// </summary>
public sealed partial class ValidationPageTests
{
    /// <summary>Share of a picture's points that may differ: edges on another machine. Its title is its caption, and so checked with the text.</summary>
    private const double DifferingPoints = 2e-3;

    /// <summary>How far a number may be from the committed one: rounding of the last digit, and a share, for machines that compute other last bits.</summary>
    private const double LastDigits = 1.01;

    private const double Share = 0.01;

    private static bool Renew => Environment.GetEnvironmentVariable("DROPSIM_WRITE_DOCS") == "1";

    private static string Docs => Repository.Folder("docs");

    [Fact]
    public void The_validation_page_is_what_the_program_gives()
    {
        var path = Path.Combine(Docs, "validation.md");
        var text = ValidationPage.Text();
        if (Renew)
        {
            File.WriteAllText(path, text);
        }

        var committed = File.ReadAllText(path);
        Number().Replace(committed, "#").Should().Be(Number().Replace(text, "#"));
        foreach (var (was, now) in Number().Matches(committed).Zip(Number().Matches(text)))
        {
            var unit = Math.Pow(10, -(was.Value.Length - 1 - was.Value.LastIndexOf('.')) * (was.Value.Contains('.', StringComparison.Ordinal) ? 1 : 0));
            var value = double.Parse(was.Value, CultureInfo.InvariantCulture);
            double.Parse(now.Value, CultureInfo.InvariantCulture).Should().BeApproximately(
                value, Math.Max(LastDigits * unit, Share * value), $"'{committed[Math.Max(0, was.Index - 60)..(was.Index + was.Length)]}' is on the page");
        }
    }

    [GeneratedRegex("[0-9]+(\\.[0-9]+)?")]
    private static partial Regex Number();

    [Fact]
    public void The_validation_pictures_are_what_the_program_draws()
    {
        Directory.CreateDirectory(Path.Combine(Docs, "validation"));
        foreach (var figure in ValidationPage.Figures())
        {
            var path = Path.Combine(Docs, "validation", figure.FileName);
            var png = FigureRenderer.Png(figure);
            if (Renew)
            {
                File.WriteAllBytes(path, png);
            }

            Differing(File.ReadAllBytes(path), png).Should().BeLessThan(DifferingPoints, figure.FileName);
        }
    }

    private static double Differing(byte[] committed, byte[] drawn)
    {
        using var first = SKBitmap.Decode(committed);
        using var second = SKBitmap.Decode(drawn);
        (first.Width, first.Height).Should().Be((second.Width, second.Height));
        var (a, b) = (first.Pixels, second.Pixels);
        a.Distinct().Count().Should().BeGreaterThan(2, "a picture is not blank");
        return a.Zip(b).Count(p => p.First != p.Second) / (double)a.Length;
    }
}
