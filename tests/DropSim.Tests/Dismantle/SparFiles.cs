using System.Text;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Tests.Dismantle;

/// <summary>Spar files for tests.</summary>
internal static class SparFiles
{
    /// <summary>A straight stem, 0.40 m thick, of 1000 kg/m3: pi/4 x 0.16 x 1000 = 125.66 kg a metre.</summary>
    public const string Straight = """
        title = "Straight stem"

        [plan]
        piece-length = "2 m"
        lowest-cut = "5 m"

        [piece]
        density = "1000 kg/m3"

        [spar]
        height = "10 m"
        diameters = [ { at = "0 m", diameter = "40 cm" }, { at = "10 m", diameter = "40 cm" } ]

        [rigging-point]
        kind = "ring"
        below-cut = "0.4 m"

        [rope]
        construction = "polyester 16-strand"
        diameter = "14 mm"
        length = "30 m"

        """;

    private static readonly Lazy<DismantleResult> Computed = new(() => Compute(Straight));

    /// <summary>The straight stem, computed once for all tests.</summary>
    public static DismantleResult Result => Computed.Value;

    public static SparPlanReadResult Read(string text) => SparPlanReader.Read(Encoding.UTF8.GetBytes(text), "straight.toml");

    public static SparPlan Plan(string text)
    {
        var read = Read(text);
        read.Problems.Select(p => p.ToString()).Should().BeEmpty();
        return read.Plan!;
    }

    public static DismantleResult Compute(string text)
    {
        var plan = Plan(text);
        return new(plan.Name, plan.Title, plan.Description, plan.SourceHash, plan.Rule, plan.Profile, DismantleStudy.Compute(plan.Cuts, 2).Cuts, plan.Cuts.Count);
    }
}

/// <summary>A folder of its own for a test, gone afterwards.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("dropsim-study-").FullName;

    public void Dispose() => Directory.Delete(Path, true);
}
