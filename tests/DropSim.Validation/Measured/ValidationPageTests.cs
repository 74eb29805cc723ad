using DropSim.Drawing;
using DropSim.Reporting.Charts;
using SkiaSharp;

namespace DropSim.Validation.Measured;

/// <summary>
/// The committed page and its pictures are what the program gives now. To renew both, run these tests with DROPSIM_WRITE_DOCS=1
/// and look at the difference.
/// </summary>
public sealed class ValidationPageTests
{
    /// <summary>Share of a picture's points that may differ: anti-aliasing on another machine. A changed digit in a title is more than this.</summary>
    private const double DifferingPoints = 2e-4;

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

        File.ReadAllText(path).Should().Be(text);
    }

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
