using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// The curves of a drop against geometry, against each other by differences, and against the words for what goes on. What is wrong in the
/// equations shows in the closed forms; here: that a curve shows what its name says.
/// </summary>
public sealed class DropTracesTests
{
    private const double Gravity = 9.80665;

    /// <summary>A strike lasts some milliseconds; within this of an event a difference would reach across it.</summary>
    private const double Interval = 1e-3;

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void The_side_view_and_the_curves_show_one_drop(string name)
    {
        var drop = VariedDrops.Named(name);
        var run = DropSimulator.Run(drop);
        var traces = run.Traces!;
        var shapes = traces.Shapes;
        var table = traces.SampleMotion(0.02);
        var modes = Enumerable.Range(0, drop.Computation.Modes).Select(i => $"mode_{i}").ToArray();
        for (var r = 0; r < table.RowCount; r++)
        {
            var t = table["time_s"][r];
            if (run.Phases.Any(p => Math.Abs(p.From - t) < 1e-6 || Math.Abs(p.To - t) < 1e-6))
            {
                // Between two phases a force may jump.
                continue;
            }

            var scene = traces.SceneAt(t);
            scene.Time.Should().BeApproximately(t, 1e-12);
            scene.CentreOfGravity.Should().Be(new PlanePoint(table["piece_x_m"][r], table["piece_z_m"][r]));
            scene.RiggingPoint.Should().Be(new PlanePoint(table["rigging_point_x_m"][r], table["rigging_point_z_m"][r]));
            scene.Device.Should().Be(new PlanePoint(drop.Device.X, drop.Device.Z));
            table["lowest_point_m"][r].Should().BeApproximately(scene.Piece.Min(p => p.Z), 1e-12);

            // Each leg pulls the rigging point along itself.
            var (t1, t2) = (scene.LoadLegTension, scene.GroundLegTension);
            table["load_leg_tension_N"][r].Should().Be(t1);
            table["ground_leg_tension_N"][r].Should().Be(t2);
            var (ux, uz) = Along(scene.RiggingPoint, scene.Hitch);
            var (vx, vz) = Along(scene.RiggingPoint, scene.Device);
            table["rigging_point_force_x_N"][r].Should().BeApproximately((t1 * ux) + (t2 * vx), 1e-8 * (1 + t1 + t2)).And.Be(scene.RiggingForceX);
            table["rigging_point_force_z_N"][r].Should().BeApproximately((t1 * uz) + (t2 * vz), 1e-8 * (1 + t1 + t2)).And.Be(scene.RiggingForceZ);
            table["rigging_point_force_N"][r].Should().BeApproximately(double.Hypot(scene.RiggingForceX, scene.RiggingForceZ), 1e-8 * (1 + t1 + t2));

            // The rope turns by what is left of half a turn between the legs; past a whole half turn where the piece is behind the device's leg.
            Math.Cos(table["wrap_angle_rad"][r]).Should().BeApproximately(-((ux * vx) + (uz * vz)), 1e-8);
            table["wrap_angle_rad"][r].Should().BeInRange(0, 1.5 * Math.PI);

            // The spar: stations from the ground to the cut, bent by the modes.
            scene.SparAxis.Should().HaveCount(41).And.HaveSameCount(shapes.SparHeights);
            for (var k = 0; k < 41; k++)
            {
                var height = drop.Spar.Height * k / 40;
                shapes.SparHeights[k].Should().BeApproximately(height, 1e-12);
                scene.SparAxis[k].Z.Should().BeApproximately(height, 1e-12);
                scene.SparAxis[k].X.Should().BeApproximately(Bent(r, i => shapes.SparShapes[i][k]), 1e-12);
                scene.SparRadius[k].Should().BeApproximately(shapes.SparRadii[k], 1e-12).And.BeApproximately(Radius(drop, height), 1e-12);
            }

            scene.SparAxis[0].X.Should().Be(0);
            table["tip_deflection_m"][r].Should().BeApproximately(scene.SparAxis[^1].X, 1e-12);
            table["climber_deflection_m"][r].Should().BeApproximately(scene.Climber!.Value.X, 1e-12).And.BeApproximately(Bent(r, i => shapes.ClimberShapes[i]), 1e-12);
            scene.Climber.Value.Z.Should().BeApproximately(drop.Spar.Height - drop.Spar.ClimberBelowCut, 1e-12).And.Be(shapes.ClimberHeight);

            // At the rigging point the axis is between two stations 0.2 to 0.3 m apart: straight between them to a tenth of a millimetre.
            var (at, share) = Math.DivRem((int)Math.Round((drop.Spar.Height - drop.RiggingPoint.BelowCut) / drop.Spar.Height * 4e6), 100_000) is var (whole, part) ? (whole, part / 1e5) : default;
            table["rigging_point_deflection_m"][r].Should().BeApproximately(((1 - share) * scene.SparAxis[at].X) + (share * scene.SparAxis[at + 1].X), 1e-4);

            // The piece: its shape at rest, turned by the lean.
            var (sin, cos) = Math.SinCos(table["piece_lean_rad"][r]);
            foreach (var (corner, shape) in scene.Piece.Zip(shapes.Piece).Append((scene.Hitch, shapes.Hitch)))
            {
                corner.X.Should().BeApproximately(scene.CentreOfGravity.X + (shape.Xi * sin) + (shape.Eta * cos), 1e-12);
                corner.Z.Should().BeApproximately(scene.CentreOfGravity.Z + (shape.Xi * cos) - (shape.Eta * sin), 1e-12);
            }
        }

        double Bent(int row, Func<int, double> shape) => Enumerable.Range(0, modes.Length).Sum(i => shape(i) * table[modes[i]][row]);
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void Speeds_and_energies_follow_from_places_by_differences(string name)
    {
        var drop = VariedDrops.Named(name);
        var run = DropSimulator.Run(drop);
        var table = run.Traces!.Sample(Interval);
        double[] Column(string column) => [.. table[column]];
        var (time, x, z, lean) = (Column("time_s"), Column("piece_x_m"), Column("piece_z_m"), Column("piece_lean_rad"));
        var (climber, climberSpeed, climberAcceleration) = (Column("climber_deflection_m"), Column("climber_velocity_m_s"), Column("climber_acceleration_m_s2"));
        var (speeds, ropeRun, ropeSpeed) = (Column("piece_speed_m_s"), Column("rope_run_m"), Column("rope_speed_at_device_m_s"));
        var (potential, kinetic) = (Column("energy_potential_J"), Column("energy_kinetic_J"));
        var lowest = z.Min();
        var (checkedRows, fastest, hardest, fastestRope) = (0, climberSpeed.Max(Math.Abs), climberAcceleration.Max(Math.Abs), ropeSpeed.Max() + 1e-6);
        for (var r = 1; r + 1 < table.RowCount; r++)
        {
            // Three rows of the grid in one phase.
            if (Math.Abs(time[r + 1] - time[r - 1] - (2 * Interval)) > 1e-9 || run.Phases.Any(p => Math.Abs(p.From - time[r]) < 1.5 * Interval))
            {
                continue;
            }

            double Rate(double[] values) => (values[r + 1] - values[r - 1]) / (2 * Interval);
            var speed = speeds[r];
            speed.Should().BeApproximately(double.Hypot(Rate(x), Rate(z)), 0.01);

            // Over 2 ms the highest mode (some 100 Hz) moves by a radian.
            climberSpeed[r].Should().BeApproximately(Rate(climber), (0.1 * fastest) + 1e-9);
            climberAcceleration[r].Should().BeApproximately(Rate(climberSpeed), (0.2 * hardest) + 1e-9);
            // What the rope's stretch gives back or takes meanwhile is not the piece's doing.
            ropeSpeed[r].Should().BeApproximately(Rate(ropeRun), 0.04 * fastestRope);
            (potential[r] - potential[0]).Should().BeApproximately(drop.Piece.Mass * Gravity * (z[r] - z[0]), 1e-6);
            var turning = Rate(lean);
            kinetic[r].Should().BeApproximately(
                ((drop.Piece.Mass * speed * speed) + (drop.Piece.Inertia * turning * turning)) / 2, 1e-3 * run.Ledger.Fallen);
            checkedRows++;
        }

        checkedRows.Should().BeGreaterThan(1_000);
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void The_books_of_the_curves_add_up_and_end_where_the_runs_books_end(string name)
    {
        var run = DropSimulator.Run(VariedDrops.Named(name));
        var table = run.Traces!.Sample(0.01);
        var places = table.Columns.Where(c => c.Name.StartsWith("energy_", StringComparison.Ordinal) || c.Name.StartsWith("lost_", StringComparison.Ordinal))
            .Where(c => c.Name != "energy_imbalance").ToArray();
        places.Select(c => c.Name).Should().Equal(run.Ledger.Places.Select(p => p.Column)).And.HaveCount(13);
        double Sum(int row) => places.Sum(c => c.Values.Span[row]);
        for (var r = 0; r < table.RowCount; r++)
        {
            table["energy_imbalance"][r].Should().BeApproximately((Sum(r) - Sum(0)) / run.Ledger.Fallen, 1e-12);
        }

        foreach (var place in run.Ledger.Places)
        {
            table[place.Column][^1].Should().BeApproximately(place.Energy, 1e-6 * run.Ledger.Fallen);
        }

        run.Ledger.LargestImbalance.Should().BeLessThan(1e-4).And.BeGreaterThanOrEqualTo(Math.Abs(table["energy_imbalance"][^1]) - 1e-9);
    }

    [Fact]
    public void A_column_is_named_for_its_unit()
    {
        var table = DropSimulator.Run(VariedDrops.Named("let run")).Traces!.SampleMotion(1);
        foreach (var column in table.Columns.Where(c => c.Name != "energy_imbalance" && !c.Name.StartsWith("mode_", StringComparison.Ordinal)))
        {
            column.Unit.Should().NotBeEmpty();
            column.Name.Should().EndWith("_" + column.Unit.Replace('/', '_').Replace(' ', '_'));
        }

        table.Columns.Single(c => c.Name == "energy_imbalance").Unit.Should().BeEmpty();
        table.Columns.Where(c => c.Name.StartsWith("mode_", StringComparison.Ordinal)).Should().OnlyContain(c => c.Unit == "kg^0.5 m");
        FluentActions.Invoking(() => table["no_such_column"].Length).Should().Throw<KeyNotFoundException>().WithMessage("*no_such_column*");
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("top over a block, snagged")]
    public void Rows_are_the_multiples_of_the_interval_from_the_hinges_break_and_both_sides_of_every_event(string name)
    {
        var run = DropSimulator.Run(VariedDrops.Named(name));
        var traces = run.Traces!;
        double[] times = [.. traces.Sample(0.01)["time_s"]];
        times.Should().BeInAscendingOrder();
        times[0].Should().Be(traces.StartTime);
        times[^1].Should().Be(traces.EndTime);

        var edges = run.Phases.Select(p => p.From).Append(traces.EndTime).ToArray();
        var grid = times.Where(t => edges.All(e => Math.Abs(e - t) > 1e-9)).ToArray();
        var expected = Enumerable.Range(-1_000, 2_000).Select(k => k * 0.01).Where(t => t > traces.StartTime && t < traces.EndTime && edges.All(e => Math.Abs(e - t) > 1e-9)).ToArray();
        grid.Should().HaveSameCount(expected);
        grid.Zip(expected).Should().OnlyContain(p => Math.Abs(p.First - p.Second) < 1e-9);
        foreach (var edge in edges[1..^1])
        {
            times.Count(t => Math.Abs(t - edge) < 1e-9).Should().Be(2, "a value may jump there");
        }
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void The_words_for_a_phase_say_what_the_curves_do_in_it(string name)
    {
        var drop = VariedDrops.Named(name);
        var run = DropSimulator.Run(drop);
        var table = run.Traces!.Sample(Interval);
        var time = table["time_s"];
        run.Phases[0].From.Should().BeApproximately(run.Traces!.StartTime, 1e-12);
        run.Phases[^1].To.Should().BeApproximately(run.Traces!.EndTime, 1e-12);
        run.Phases.Zip(run.Phases.Skip(1)).Should().OnlyContain(p => p.First.To == p.Second.From);
        (table["rope_slip_m"][0], table["rope_run_m"][0]).Should().Be((0, 0));
        var row = -1;
        foreach (var phase in run.Phases)
        {
            // The rows of one phase after those of the other.
            var first = row + 1;
            time[first].Should().Be(phase.From);
            for (row = first + 1; time[row] < phase.To; row++)
            {
            }

            var last = row;
            time[last].Should().Be(phase.To);
            if (phase.To - phase.From < 1e-6)
            {
                continue;
            }

            double Change(string column) => table[column][last] - table[column][first];
            bool Says(string words) => phase.Detail.Contains(words, StringComparison.Ordinal);
            var middle = (first + last) / 2;
            var inside = last - first > 1 ? middle : first;
            var pulls = table["load_leg_tension_N"][inside] > 0 && table["ground_leg_tension_N"][inside] > 0;
            Says("both legs pull").Should().Be(pulls, phase.Detail);
            (Says("rope slack") || Says("load leg runs free") || Says("ground leg runs free")).Should().Be(!pulls, phase.Detail);
            Says(", slips toward the piece").Should().Be(pulls && Change("rope_slip_m") > 1e-12, phase.Detail);
            Says(", slips toward the device").Should().Be(pulls && Change("rope_slip_m") < -1e-12, phase.Detail);
            Says(", sticks at the rigging point").Should().Be(pulls && Math.Abs(Change("rope_slip_m")) <= 1e-12, phase.Detail);
            Says(", hitch tightens").Should().Be(Change("hitch_take_up_m") > 0, phase.Detail);
            Says(", wraps tighten").Should().Be(Change("wraps_take_up_m") > 0, phase.Detail);
            Says(", device runs").Should().Be(Change("rope_run_m") > 0, phase.Detail);
            Says(", on the hinge").Should().Be(phase.To <= 1e-9, phase.Detail);
            (table["hinge_force_N"][inside] > 0).Should().Be(phase.To <= 1e-9);
            Says(", piece against the spar").Should().Be(table["contact_force_N"][inside] > 0, phase.Detail);
            var coarse = phase.To <= 1e-9 ? "hinged" : !pulls ? "free" : Change("rope_run_m") > 0 ? "running" : "taut";
            phase.Name.Should().Be(coarse);
            for (var r = first; r <= last; r++)
            {
                table.Phase[r].Should().Be(coarse);
            }

            if (drop.Catch.Kind == CatchKind.HardStop)
            {
                // Locked off, a hand would have had to hold T2 / exp(2 pi N mu).
                table["hand_tension_N"][middle].Should().BeApproximately(
                    table["ground_leg_tension_N"][middle] / Math.Exp(2 * Math.PI * drop.Device.Wraps * drop.Device.Friction), 1e-9);
            }
        }
    }

    [Fact]
    public void What_rope_loses_in_a_spell_is_told_with_the_event_that_began_it()
    {
        foreach (var name in (string[])["let run", "locked off, take-ups"])
        {
            var run = DropSimulator.Run(VariedDrops.Named(name));
            double Lost(string place) => run.Ledger.Places.Single(p => p.Column == place).Energy;
            double Told(params EventKind[] kinds) => run.Events.Where(e => kinds.Contains(e.Kind)).Sum(e => e.Energy ?? 0);
            Told(EventKind.RopeSlipsToPiece, EventKind.RopeSlipsToDevice).Should().BeApproximately(Lost("lost_rigging_point_J"), 1e-6 * run.Ledger.Fallen);
            Told(EventKind.DeviceRuns, EventKind.WrapsTighten).Should().BeApproximately(Lost("lost_device_J"), 1e-6 * run.Ledger.Fallen);
            Told(EventKind.HitchTightens).Should().BeApproximately(Lost("lost_hitch_J"), 1e-6 * run.Ledger.Fallen);
            Lost("lost_rigging_point_J").Should().BePositive();
            Lost("lost_device_J").Should().BePositive();
        }
    }

    private static (double X, double Z) Along(PlanePoint from, PlanePoint to)
    {
        var (dx, dz) = (to.X - from.X, to.Z - from.Z);
        var length = double.Hypot(dx, dz);
        return (dx / length, dz / length);
    }

    // Two diameters, at the ground and at the cut.
    private static double Radius(DropInput drop, double height) =>
        (drop.Spar.Diameters[0].Diameter + ((drop.Spar.Diameters[1].Diameter - drop.Spar.Diameters[0].Diameter) * height / drop.Spar.Height)) / 2;
}
