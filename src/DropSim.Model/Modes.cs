using System.Runtime.CompilerServices;

namespace DropSim.Model;

/// <summary>One value per spar mode, on the stack.</summary>
[InlineArray(StateLayout.MostModes)]
internal struct Modes
{
#pragma warning disable IDE0044, IDE0051, CS0169, CA1823 // an inline array is its one field
    private double _element;
#pragma warning restore IDE0044, IDE0051, CS0169, CA1823
}

/// <summary>One mode of the spar where the drop meets it; mass-normalised.</summary>
/// <param name="Ring">Deflection at the rigging point, kg^-1/2.</param>
/// <param name="RingSlope">Slope there, kg^-1/2 per m.</param>
/// <param name="Top">Deflection at the cut, kg^-1/2.</param>
/// <param name="TopSlope">Slope there, kg^-1/2 per m.</param>
/// <param name="Climber">Deflection at the climber's feet, kg^-1/2.</param>
/// <param name="Device">Deflection at the friction device's height, kg^-1/2.</param>
/// <param name="FootSlope">Slope at the ground, kg^-1/2 per m; 0 for a rigid root.</param>
/// <param name="FrequencySquared">omega squared, 1/s2.</param>
/// <param name="DampingRate">2 zeta omega, 1/s.</param>
internal readonly record struct PlacedMode(
    double Ring, double RingSlope, double Top, double TopSlope, double Climber, double Device, double FootSlope, double FrequencySquared, double DampingRate);

/// <summary>One value per place of contact, on the stack.</summary>
[InlineArray(ContactPlaces.Most)]
internal struct ContactValues
{
#pragma warning disable IDE0044, IDE0051, CS0169, CA1823 // an inline array is its one field
    private double _element;
#pragma warning restore IDE0044, IDE0051, CS0169, CA1823
}

/// <summary>One force on the spar per place of contact that presses, on the stack.</summary>
[InlineArray(ContactPlaces.Most)]
internal struct ContactLoads
{
#pragma warning disable IDE0044, IDE0051, CS0169, CA1823 // an inline array is its one field
    private SparLoad _element;
#pragma warning restore IDE0044, IDE0051, CS0169, CA1823
}
