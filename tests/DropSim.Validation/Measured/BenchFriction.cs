namespace DropSim.Validation.Measured;

/// <summary>
/// Rope pulled slowly over round hosts with 75 kg on it (R. Delaney (2022), Physics for Roping Technicians, pp. 82, 88; table read).
/// The capstan law is fitted to lowering and asked to predict raising.
/// </summary>
internal static class BenchFriction
{
    private const double Hung = 75;

    public static IReadOnlyList<Row> Rows { get; } =
    [
        new("50 mm aluminium", 98, 50, 90), new("50 mm aluminium", 88, 35, 180), new("50 mm aluminium", 89, 49, 90),
        new("60 mm anodised", 92, 53, 90), new("60 mm anodised", 87, 36, 180), new("60 mm anodised", 92, 52, 90),
        new("43 mm galvanised", 103, 47, 90), new("43 mm galvanised", 125, 37, 180), new("43 mm galvanised", 92, 47, 90),
        new("10 mm steel", 127, 29, 180), new("12 mm steel", 140, 31, 180),
        new("timber, flat", 179, 17, 180), new("timber, on edge", 140, 15, 180), new("concrete", 135, 34, 90),
    ];

    /// <summary>Mean and r.m.s. of the relative error of the predicted raising pulls.</summary>
    public static (double Mean, double Rms) Error
    {
        get
        {
            var errors = Rows.Select(r => (r.PredictedRaise / r.Raise) - 1).ToArray();
            return (errors.Average(), Math.Sqrt(errors.Average(e => e * e)));
        }
    }

    /// <summary>Coefficients of a choice of hosts, both ways: smallest, largest, and one for all.</summary>
    public static (double Low, double High, double Mean) Spread(Func<Row, bool> hosts)
    {
        var all = Rows.Where(hosts).ToArray();
        return (all.Min(r => r.BothWays), all.Max(r => r.BothWays), all.Average(r => r.BothWays));
    }

    /// <summary>One bench test.</summary>
    /// <param name="Host">What the rope ran over.</param>
    /// <param name="Raise">Pull that raised 75 kg, kgf.</param>
    /// <param name="Lower">Pull that let it down, kgf.</param>
    /// <param name="WrapDegrees">Angle of wrap.</param>
    public sealed record Row(string Host, double Raise, double Lower, double WrapDegrees)
    {
        private double Wrap => WrapDegrees * Math.PI / 180;

        /// <summary>Coefficient from lowering: 75 / lower = exp(mu theta).</summary>
        public double FromLowering => Math.Log(Hung / Lower) / Wrap;

        /// <summary>Coefficient from raising: raise / 75 = exp(mu theta).</summary>
        public double FromRaising => Math.Log(Raise / Hung) / Wrap;

        /// <summary>The source's own: both ways together.</summary>
        public double BothWays => Math.Log(Raise / Lower) / (2 * Wrap);

        /// <summary>What lowering predicts for raising, kgf.</summary>
        public double PredictedRaise => Hung * Hung / Lower;

        public bool Metal => !Host.StartsWith("timber", StringComparison.Ordinal) && Host != "concrete";
    }
}
