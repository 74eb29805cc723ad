using System.Text;
using DropSim.Model;
using DropSim.Scenarios;

namespace DropSim.Validation.Measured;

/// <summary>Shipped scenarios and texts as cases, and what is read off their runs.</summary>
internal static class Drops
{
    /// <summary>A case of a shipped scenario by its name.</summary>
    public static DropCase Shipped(string file, string name) =>
        Read(File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), file + ".toml"))).Cases.Single(c => c.Name == name);

    /// <summary>A case from a scenario text.</summary>
    public static Scenario Read(string text)
    {
        var read = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "validation.toml");
        return read.Scenario ?? throw new InvalidOperationException(string.Join(Environment.NewLine, read.Problems));
    }

    /// <summary>A run for its measures.</summary>
    public static DropRun Run(DropInput input) => DropSimulator.Run(input, new RunOptions { Detail = RunDetail.MeasuresOnly });

    /// <summary>Largest force on the rigging point, N.</summary>
    public static double Rigging(DropInput input) => Run(input)[MeasureIds.RiggingPointForce].Value;

    /// <summary>Load leg over ground leg at the moment of the load leg's largest tension.</summary>
    public static double RatioAtPeak(DropInput input)
    {
        var table = DropSimulator.Run(input).Traces!.Sample(0.5e-3);
        var load = table["load_leg_tension_N"];
        var ground = table["ground_leg_tension_N"];
        var at = 0;
        for (var i = 1; i < load.Length; i++)
        {
            at = load[i] > load[at] ? i : at;
        }

        return load[at] / ground[at];
    }

    /// <summary>The ends of one of a case's ranges.</summary>
    public static InputRange Range(DropCase dropCase, string name) => dropCase.Ranges.Single(r => r.Name == name);

    /// <summary>The case's input with one uncertain value set.</summary>
    public static DropInput With(DropCase dropCase, string name, double value) => Range(dropCase, name).Apply(dropCase.Input, value);

    /// <summary>The same log, shorter: mass, balance and inertia as a cylinder's.</summary>
    public static DropInput Shorter(DropInput input, double share)
    {
        var piece = input.Piece;
        var (length, mass) = (piece.Length * share, piece.Mass * share);
        return input with
        {
            Piece = piece with
            {
                Length = length,
                Mass = mass,
                BareLength = length,
                CentreOfGravity = piece.CentreOfGravity * share,
                Inertia = mass * ((length * length / 12) + (piece.ButtDiameter * piece.ButtDiameter / 16)),
                HitchHeight = Math.Min(piece.HitchHeight, length / 2),
            },
        };
    }
}
