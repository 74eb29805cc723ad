using System.Globalization;
using DropSim.Model;
using DropSim.Scenarios.Building;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios;

/// <summary>
/// Reads a spar file: the tables of a scenario, with a rule for the cuts in place of a piece. Each cut becomes a case that is built,
/// checked and given its defaults and ranges exactly as if it stood in a scenario file of its own.
/// </summary>
public static class SparPlanReader
{
    /// <summary>Name of the table that makes a file a spar file.</summary>
    internal const string Section = "plan";

    /// <summary>Most cuts: what a printed page holds legibly.</summary>
    public const int MostCuts = 20;

    /// <summary>Most catches of a plan: one page shows two side by side.</summary>
    private const int MostCatches = 2;

    /// <summary>The highest measure must stand within this of the tip, or of the cut below the top, m. Choice of this model.</summary>
    private const double HighestMeasure = 2;

    /// <summary>The lowest measure must stand within this of the ground, m, as in a scenario.</summary>
    private const double LowestMeasure = 2;

    /// <summary>Of a piece, what may hold for every piece of a stem.</summary>
    private static readonly string[] CommonPieceKeys = ["species", "density", "hitch-height", "drag-area", "tip-diameter", "tip-girth", "bare-length", "crown", "crown-half-width"];

    /// <summary>Of these, what only a top has.</summary>
    private static readonly string[] TopKeys = ["tip-diameter", "tip-girth", "bare-length", "crown", "crown-half-width", "drag-area"];

    /// <summary>Reads a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <returns>The plan, or the problems; a file that cannot be read is a problem, not an exception.</returns>
    public static SparPlanReadResult Read(string path) => Build(ScenarioDraft.Open(path), Path.GetFileName(path));

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="bytes">The bytes, UTF-8.</param>
    /// <param name="file">File name for messages and for the plan's name.</param>
    public static SparPlanReadResult Read(ReadOnlySpan<byte> bytes, string file) => Build(ScenarioReader.Open(bytes, file), file);

    private static SparPlanReadResult Build(ScenarioDraft draft, string file)
    {
        List<ScenarioProblem> problems = [.. draft.Problems];
        if (draft.Layers is not { } layers || problems.Count > 0)
        {
            return new(null, ScenarioDraft.Sorted(problems));
        }

        Reading reading = new(layers, file, problems);
        SparPlan? plan = reading.Run(draft.Hash);
        return problems.Count > 0 ? new(null, ScenarioDraft.Sorted(problems)) : new(plan, []);
    }

    private sealed class Reading(ScenarioLayers layers, string file, List<ScenarioProblem> problems)
    {
        private readonly Catalogue _catalogue = Catalogue.Load();

        public SparPlan? Run(string hash)
        {
            Refusals();
            CaseValues values = new(layers.Common.With(layers.Top), file, "", problems);
            CutRule? rule = Rule(values);
            double height = layers.Common.Find("spar.height")?.Number ?? double.NaN;
            if (problems.Count > 0 || rule is null)
            {
                return null;
            }

            if (Profile(values, height, rule.TopLength) is not { } profile)
            {
                return null;
            }

            double density = PieceBuilder.Density(values, PieceBuilder.Species(values, _catalogue, "piece.species")).Value;
            IReadOnlyList<StemPiece> pieces = StemCuts.Of(profile, rule, density);
            if (pieces.Count == 0 || pieces[^1].Cut - rule.LowestCut >= StemCuts.ShortestLog)
            {
                double reached = pieces.Count == 0 ? height : pieces[^1].Cut;
                Add("plan.piece-mass", $"a mass that even a log of {Text(StemCuts.ShortestLog)} cut off below {Text(reached)} exceeds", "a larger mass, or a lowest-cut above that height");
                return null;
            }

            if (pieces.Count > MostCuts)
            {
                Add("plan", $"{pieces.Count.ToString(CultureInfo.InvariantCulture)} cuts", $"at most {MostCuts.ToString(CultureInfo.InvariantCulture)}, or two files with different lowest cuts: nobody talks a longer plan over");
                return null;
            }

            List<PlannedCut> cuts = [];
            for (int i = 0; i < pieces.Count && problems.Count == 0; i++)
            {
                if (Cut(i + 1, pieces[i], profile) is { } cut)
                {
                    cuts.Add(cut);
                }
            }

            string name = ScenarioReader.SafeName(Path.GetFileNameWithoutExtension(file));
            return problems.Count > 0 ? null : new SparPlan(
                name,
                layers.Top.Find("title")?.Word is { Length: > 0 } title ? title : name,
                layers.Top.Find("description")?.Word ?? "",
                layers.Top.Find("units")?.Word == "us" ? UnitPreference.Us : UnitPreference.Metric,
                hash, rule, profile, cuts);
        }

        /// <summary>What a spar file must hold, and what it may not.</summary>
        private void Refusals()
        {
            if (!layers.Top.All.Any(v => v.Spec.Section == Section))
            {
                Add(Section, "no [plan]", "a spar file with a rule for the cuts, for example piece-length = \"1.5 m\"; a scenario of single drops is for dropsim simulate");
                return;
            }

            foreach (KeySpec spec in KeyTable.RequiredInCase.Where(k => k.Section is not "piece" && !layers.Common.Has(k.Path)))
            {
                Add(spec.Path, "nothing", spec.Path == "spar.height" ? "the height of the stem as it stands, its top included" : spec.Says, layers.LineOf(spec.Section));
            }

            if (!layers.Common.Has("rope.length") && !layers.Common.Has("rope.left-at-device"))
            {
                Add("rope.length", "nothing", "the length of your rope: the same one serves every cut", layers.LineOf("rope"));
            }

            foreach (GivenValue value in layers.Common.All.Where(v => v.Spec.Section == "piece" && !CommonPieceKeys.Contains(v.Spec.Name)))
            {
                Add(value.Spec.Path, "a value of one piece", "only what holds for every piece: " + string.Join(", ", CommonPieceKeys), value.Line);
            }

            if (layers.Common.Find("rigging-point.kind") is { Word: "natural-union" } union)
            {
                Add("rigging-point.kind", "a natural union, which stands at one height", "a ring or a block, which moves down with the cuts", union.Line);
            }

            if (layers.Common.All.FirstOrDefault(v => v.Spec.Section == "sway-test") is { } sway)
            {
                Add("sway-test", "a sway test of the stem as it stands", "none: the stem changes with every cut", sway.Line);
            }

            if (layers.Setups.Count > 1 || layers.Setups[0].Name != "base")
            {
                Add("setup", "set-ups", "one way of rigging; a second one is a second file", layers.LineOf("setup"));
            }

            if (layers.Catches.Count > MostCatches)
            {
                Add("catch", $"{layers.Catches.Count.ToString(CultureInfo.InvariantCulture)} catches", "at most two, for example a hard stop and a let run", layers.LineOf("catch"));
            }
        }

        private CutRule? Rule(CaseValues values)
        {
            double length = values.Optional("plan.piece-length") ?? double.PositiveInfinity;
            double mass = values.Optional("plan.piece-mass") ?? double.PositiveInfinity;
            if (double.IsInfinity(length) && double.IsInfinity(mass) && problems.Count == 0)
            {
                Add("plan.piece-length", "neither piece-length nor piece-mass", "a rule for the cuts, for example piece-length = \"1.5 m\"", layers.LineOf(Section));
                return null;
            }

            double lowest = values.Take("plan.lowest-cut").Value;
            double top = values.Optional("plan.top-length") ?? 0;
            double height = layers.Common.Find("spar.height")?.Number ?? double.NaN;
            if (height - top - lowest < StemCuts.ShortestLog)
            {
                Add("plan.lowest-cut", $"a stem of {Text(height)}{(top > 0 ? $" with a top of {Text(top)}" : "")} and nothing to cut above {Text(lowest)}", "a lower lowest-cut or a shorter top", layers.LineOf(Section));
            }

            if (top <= 0 && layers.Common.All.FirstOrDefault(v => v.Spec.Section == "piece" && TopKeys.Contains(v.Spec.Name)) is { } own)
            {
                Add(own.Spec.Path, "a value of a top, and no top", "plan.top-length, or without it none of a top's values", own.Line);
            }

            return new CutRule(length, mass, lowest, top);
        }

        /// <summary>Diameters from the ground to the tip: below the lowest measure the taper goes on, above the highest one a top thins to its tip.</summary>
        private List<DiameterAtHeight>? Profile(CaseValues values, double height, double top)
        {
            bool girths = values.Has("spar.girths");
            string path = girths ? "spar.girths" : "spar.diameters";
            if (values.Given(path) is not { } given)
            {
                Add("spar.girths", "no girths and no diameters", "measures from near the ground to the top of the stem", layers.LineOf("spar"));
                return null;
            }

            List<DiameterAtHeight> d = [.. given.Items.Select(i => new DiameterAtHeight(i["at"], girths ? i["girth"] / Math.PI : i["diameter"]))];
            if (d.Zip(d.Skip(1)).Any(p => p.Second.Height <= p.First.Height))
            {
                Add(path, "measures not from the ground up", "growing heights", given.Line);
                return null;
            }

            if (d[0].Height > LowestMeasure)
            {
                Add(path, $"the lowest measure at {Text(d[0].Height)}", "one within 2 m of the ground, where the bending is largest", given.Line);
            }

            double needed = height - top;
            if (d[^1].Height < needed - HighestMeasure || d[^1].Height > height)
            {
                Add(path, $"the highest measure at {Text(d[^1].Height)}", top > 0
                    ? $"one within 2 m of the cut below the top, {Text(needed)}, and none above the tip" : $"one within 2 m of the upper end of the stem, {Text(height)}, and none above it", given.Line);
            }

            if (problems.Count > 0)
            {
                return null;
            }

            if (d[0].Height > 0)
            {
                double taper = d.Count > 1 ? Math.Max(0, (d[0].Diameter - d[1].Diameter) / (d[1].Height - d[0].Height)) : 0;
                d.Insert(0, new DiameterAtHeight(0, d[0].Diameter + (taper * d[0].Height)));
            }

            if (d[^1].Height < height)
            {
                // Without a top the uppermost measure is kept: a stem that is really thinner there gives lighter pieces.
                double tip = top <= 0 ? d[^1].Diameter : values.Optional("piece.tip-diameter") ?? (values.Optional("piece.tip-girth") / Math.PI) ?? PieceMass.Tip(true, d[^1].Diameter);
                d.Add(new DiameterAtHeight(height, tip));
            }

            return d;
        }

        private PlannedCut? Cut(int number, StemPiece piece, List<DiameterAtHeight> profile)
        {
            GivenValues own = Own(piece, profile);
            GivenValues common = new();
            foreach (GivenValue value in layers.Common.All.Where(v => piece.Kind == PieceKind.Top || v.Spec.Section != "piece" || !TopKeys.Contains(v.Spec.Name)))
            {
                common.Add(value);
            }

            string prefix = $"cut {number.ToString(CultureInfo.InvariantCulture)} at {Text(piece.Cut)}: ";
            List<DropCase> cases = [];
            foreach (CatchLayer held in layers.Catches)
            {
                CaseValues values = new(common.With(own).With(held.Values), file, prefix, problems);
                if (CaseBuilder.Build(values, _catalogue, $"cut-{number.ToString("00", CultureInfo.InvariantCulture)}", held.Name, layers.Obstacles) is { } built)
                {
                    cases.Add(built);
                }
            }

            return problems.Count > 0 ? null : new PlannedCut(number, cases, WrapsBuilder.Band(cases[0], layers.Common), RopeInUse.Of(cases[0].Input));
        }

        /// <summary>The piece and the spar below its cut, as a file of this one drop would give them.</summary>
        private GivenValues Own(StemPiece piece, List<DiameterAtHeight> profile)
        {
            GivenValues own = new();
            int line = layers.LineOf(Section);
            void Set(string path, double value) => own.Add(new GivenValue(KeyTable.ByPath[path], line) { Number = value });
            own.Add(new GivenValue(KeyTable.ByPath["piece.kind"], line) { Word = piece.Kind == PieceKind.Top ? "top" : "log" });
            Set("piece.length", piece.Length);
            Set("piece.butt-diameter", piece.ButtDiameter);
            if (piece.Kind == PieceKind.Log)
            {
                Set("piece.middle-diameter", piece.MiddleDiameter);
            }

            Set("piece.tip-diameter", piece.UpperDiameter);
            Set("spar.height", piece.Cut);
            List<DiameterAtHeight> standing = [.. profile.Where(d => d.Height < piece.Cut), new DiameterAtHeight(piece.Cut, piece.ButtDiameter)];
            own.Add(new GivenValue(KeyTable.ByPath["spar.diameters"], layers.Common.Find("spar.diameters")?.Line ?? layers.Common.Find("spar.girths")?.Line ?? 0)
            {
                Items = [.. standing.Select(d => new Dictionary<string, double> { ["at"] = d.Height, ["diameter"] = d.Diameter })],
            });
            return own;
        }

        private void Add(string path, string found, string expected, int line = 0) => problems.Add(new ScenarioProblem(file, line, path, found, expected));

        private static string Text(double metres) => metres.ToString("0.##", CultureInfo.InvariantCulture) + " m";
    }
}
