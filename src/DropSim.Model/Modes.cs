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

/// <summary>One value per place of contact, on the stack.</summary>
[InlineArray(ContactPlaces.Most)]
internal struct ContactValues
{
#pragma warning disable IDE0044, IDE0051, CS0169, CA1823 // an inline array is its one field
    private double _element;
#pragma warning restore IDE0044, IDE0051, CS0169, CA1823
}
