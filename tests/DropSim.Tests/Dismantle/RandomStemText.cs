using System.Globalization;
using System.Text;
using CsCheck;

namespace DropSim.Tests.Dismantle;

/// <summary>A spar file drawn from a seed: any stem, obstacle and plan that a person might write, short to compute, some of them refused.</summary>
internal static class RandomStemText
{
    private static readonly string[] Names = ["shed", "shed roof", "the fence", "glass house of the neighbour, the long one behind the hedge", "wall", "a \\\"pond\\\"", "pipe"];
    private static readonly string[] Constructions = ["polyester 16-strand", "polyester double-braid", "nylon 3-strand"];

    /// <summary>The text of the file.</summary>
    /// <param name="seed">The same seed gives the same text.</param>
    public static string Of(int seed)
    {
        var random = new Draw(new PCG(1, ((ulong)seed * 7_919) + 12_345));
        var height = random.Between(3, 26);
        var lowest = random.Between(0.5, Math.Min(6, height - 1));
        var top = random.One(3) && height - lowest > 3 ? random.Between(0.8, Math.Min(5, height - lowest - 0.5)) : 0;
        var text = new StringBuilder();
        void Line(string line) => text.AppendLine(line);
        Line($"title = \"Stem {seed.ToString(CultureInfo.InvariantCulture)}{(random.One(8) ? new string('x', 300) : "")}\"");
        if (random.One(3))
        {
            Line("units = \"us\"");
        }

        Line("[plan]");
        Line($"lowest-cut = \"{Number(lowest)} m\"");
        if (top > 0)
        {
            Line($"top-length = \"{Number(top)} m\"");
        }

        // Few cuts mostly, so that hundreds of plans are affordable; now and then as many as a plan may have, or more.
        var cuts = random.One(25) ? random.Between(8, 22) : random.Between(1, 4);
        Line($"piece-length = \"{Number(Math.Clamp((height - top - lowest) / cuts, 0.3, 8))} m\"");
        if (random.One(4))
        {
            Line($"piece-mass = \"{Number(random.Between(60, 900))} kg\"");
        }

        Line("[piece]");
        Line(random.One(2) ? $"density = \"{Number(random.Between(450, 1150))} kg/m3\"" : "species = \"Norway spruce (living tree)\"");
        Stem(random, Line, height, top);
        Line("[rigging-point]");
        Line(random.One(3) ? "kind = \"block\"" : "kind = \"ring\"");
        Line($"below-cut = \"{Number(random.Between(0.15, 0.8))} m\"");
        Line("[rope]");
        Line($"construction = \"{random.Of(Constructions)}\"");
        Line($"diameter = \"{Number(random.Between(10, 19))} mm\"");
        Line($"length = \"{Number(random.Between(15, 80))} m\"");
        if (random.One(3))
        {
            Line($"slack = \"{Number(random.Between(0, 2))} m\"");
        }

        if (random.One(3))
        {
            Line("[device]");
            Line($"wraps = {Number(random.Between(0.5, 5))}");
        }

        Line("[computation]");
        Line("relative-tolerance = 1e-4");
        Line("modes = 2");
        Line("end-time = \"3 s\"");
        Obstacles(random, Line, height);
        Catches(random, Line);
        return text.ToString();
    }

    private static void Stem(Draw random, Action<string> line, double height, double top)
    {
        var butt = random.Between(0.015, 0.035) * height;
        var upper = butt * random.Between(0.3, 0.95);
        var last = Math.Max(1.6, height - top - random.Between(0, 1.5));
        line("[spar]");
        line($"height = \"{Number(height)} m\"");
        line($"diameters = [ {{ at = \"{Number(Math.Min(1.3, last / 2))} m\", diameter = \"{Number(100 * butt)} cm\" }}, {{ at = \"{Number(Math.Min(last, height))} m\", diameter = \"{Number(100 * upper)} cm\" }} ]");
        line($"climber-below-cut = \"{Number(random.Between(0.9, 1.6))} m\"");
        if (random.One(2))
        {
            line("condition = \"sound\"");
        }
    }

    private static void Obstacles(Draw random, Action<string> line, double height)
    {
        for (var i = random.Whole(4); i > 0; i--)
        {
            var from = random.One(6) ? random.Between(-12, -1) : random.Between(0.4, 8);
            var low = random.One(5) ? random.Between(0.2, 2) : 0;
            line("[[obstacle]]");
            line($"name = \"{random.Of(Names)}\"");
            line($"x-from = \"{Number(from)} m\"");
            line($"x-to = \"{Number(from + random.Between(0.1, 12))} m\"");
            line($"z-from = \"{Number(low)} m\"");
            line($"z-to = \"{Number(low + random.Between(0.1, Math.Min(5, height)))} m\"");
        }
    }

    private static void Catches(Draw random, Action<string> line)
    {
        // One catch mostly; without any the file has a hard stop and a let run.
        if (random.One(8))
        {
            return;
        }

        foreach (var kind in random.One(5) ? new[] { "hard-stop", "let-run" } : [random.One(2) ? "hard-stop" : "let-run"])
        {
            line("[[catch]]");
            line($"name = \"{kind}\"");
            line($"kind = \"{kind}\"");
        }
    }

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private sealed class Draw(PCG random)
    {
        private double Share => (random.Next() >> 1) / 2147483648.0;

        public double Between(double low, double high) => low + (Share * (high - low));

        public int Whole(int below) => Math.Min(below - 1, (int)(Share * below));

        public bool One(int of) => Whole(of) == 0;

        public string Of(string[] words) => words[Whole(words.Length)];
    }
}
