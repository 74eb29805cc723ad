using System.Globalization;

namespace DropSim.Validation.ClosedForm;

/// <summary>Settings of a point in words.</summary>
internal static class Say
{
    public static string Number(string before, double value, string after = "") => string.Create(CultureInfo.InvariantCulture, $"{before}{value:0.####}{after}");
}
