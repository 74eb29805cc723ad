namespace DropSim.Model;

/// <summary>Names of the places in the state vector. Lengths in m, angles in rad, energies in J.</summary>
internal sealed class StateLayout
{
    public const int PieceX = 0;
    public const int PieceZ = 1;
    public const int Lean = 2;
    public const int PieceVx = 3;
    public const int PieceVz = 4;
    public const int LeanRate = 5;
    public const int LoadLength = 6;
    public const int GroundLength = 7;
    public const int RopeRun = 8;
    public const int HitchTaken = 9;
    public const int WrapsTaken = 10;
    public const int LoadRelaxed = 11;
    public const int GroundRelaxed = 12;
    public const int LostRiggingPoint = 13;
    public const int LostDevice = 14;
    public const int LostHitch = 15;
    public const int LostRope = 16;
    public const int LostTransport = 17;
    public const int LostSpar = 18;
    public const int LostContact = 19;
    public const int LostDrag = 20;
    public const int LostHinge = 21;

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
