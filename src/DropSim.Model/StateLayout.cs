namespace DropSim.Model;

/// <summary>Names of the places in the state vector. Lengths in m, angles in rad, energies in J.</summary>
internal sealed class StateLayout
{
    // Energies lost first: no rate hangs on them.
    public const int LostRiggingPoint = 0;
    public const int LostDevice = 1;
    public const int LostHitch = 2;
    public const int LostRope = 3;
    public const int LostTransport = 4;
    public const int LostSpar = 5;
    public const int LostContact = 6;
    public const int LostDrag = 7;
    public const int LostHinge = 8;

    /// <summary>First state on which rates hang.</summary>
    public const int FirstActive = 9;

    public const int PieceX = 9;
    public const int PieceZ = 10;
    public const int Lean = 11;
    public const int PieceVx = 12;
    public const int PieceVz = 13;
    public const int LeanRate = 14;
    public const int LoadLength = 15;
    public const int GroundLength = 16;
    public const int RopeRun = 17;
    public const int HitchTaken = 18;
    public const int WrapsTaken = 19;
    public const int LoadRelaxed = 20;
    public const int GroundRelaxed = 21;

    /// <summary>First modal coordinate; their rates follow.</summary>
    public const int FirstMode = 22;

    /// <summary>Most spar modes that can be kept.</summary>
    public const int MostModes = 8;

    public StateLayout(int modes)
    {
        Modes = modes;
        FirstModeRate = FirstMode + modes;
        Count = FirstMode + (2 * modes);
    }

    public int Modes { get; }

    public int FirstModeRate { get; }

    public int Count { get; }
}
