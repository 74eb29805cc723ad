using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>A measure of a vary study as it is drawn: its name, unit, colour and the range of its values.</summary>
internal sealed class VaryScale
{
    private readonly VaryResult _result;

    internal VaryScale(VaryResult result, int measure, UnitSystem units)
    {
        _result = result;
        Place = measure;
        Units = units;
        Measure = result.Cases.Select(c => c.Run.Measures.FirstOrDefault(m => m.Id == Id)).OfType<Measure>().FirstOrDefault()
            ?? new(Id, Id.Replace('_', ' '), "", double.NaN, null, MeasureState.Unknown, Worse.Neither, false, "");
        Values = [.. result.Runs.Done.Where(d => d.Result.End is not null).Select(d => d.Result.Values[measure]).Where(double.IsFinite)];
        var high = Values.Select(Math.Abs).DefaultIfEmpty(1).Max();
        (Unit, Factor) = Format.IsSmallLength(Id) ? Reporting.Units.SmallLength(units)
            : Measure.Unit == "Pa" && units == UnitSystem.Si ? ("MPa", 1e-6)
            : Reporting.Units.Axis(Measure.Unit, units);
        (Unit, Factor) = Unit == "kN" && high * Factor < 1 ? ("N", 1) : (Unit, Factor);
    }

    /// <summary>Place among the measures of the study.</summary>
    internal int Place { get; }

    internal UnitSystem Units { get; }

    internal string Id => _result.Options.Measures[Place];

    /// <summary>A measure to take label, unit and direction from.</summary>
    internal Measure Measure { get; }

    /// <summary>All values found, bounds included, SI.</summary>
    internal double[] Values { get; }

    internal string Unit { get; }

    internal double Factor { get; }

    internal string Colour => Id switch
    {
        MeasureIds.LoadLegTension or MeasureIds.LoadLegTimesWeight => Palette.LoadLeg,
        MeasureIds.GroundLegTension or MeasureIds.RopeRun or MeasureIds.RopeSpeed => Palette.GroundLeg,
        MeasureIds.HandForce => Palette.HandText,
        MeasureIds.Room => Palette.PieceText,
        MeasureIds.ClimberMovement or MeasureIds.ClimberSpeed or MeasureIds.ClimberAcceleration => Palette.Climber,
        MeasureIds.SparStress or MeasureIds.BaseMoment or MeasureIds.TipDeflection => Palette.SparText,
        _ => Palette.RiggingPoint,
    };

    /// <summary>A value in words.</summary>
    internal string Say(double value) => double.IsNaN(value) ? "unknown"
        : Format.IsSmallLength(Id) ? Format.SmallLength(value, Units) : Format.Quantity(value, Measure.Unit, Units);

    /// <summary>"central (worst of the range: ...)" of the case as the scenario has it.</summary>
    internal string AsGiven(VariedCase one)
    {
        var measure = one.Run.Measures.FirstOrDefault(m => m.Id == Id);
        return measure is null ? "unknown"
            : Wording.HasRange(measure)
                ? $"{Format.Value(measure, Units)} (worst of the range {(measure.Id == MeasureIds.Room && measure.Low <= 0 ? "none left" : Format.Worst(measure, Units))})"
                : Format.Value(measure, Units);
    }

    /// <summary>The value of a varied input as the scenario has it, in the unit shown; not a number where that cannot be told.</summary>
    internal static double Own(VariedAxis axis, VariedCase one)
    {
        var note = axis.AreWords ? null : one.Central.Notes.FirstOrDefault(n => n.Path == axis.Path)?.Number;
        return note is { } si ? si / axis.UnitInSi : double.NaN;
    }
}
