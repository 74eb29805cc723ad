namespace DropSim.Model;

/// <summary>Everything that one evaluation of the drop's laws finds out. Lives on the stack, uncleared: Solve writes what is read. SI units.</summary>
internal struct Instant
{
    // Where things are.
    public double Sin;
    public double Cos;
    public double RingX;
    public double RingZ;
    public double RingVx;
    public double RingVz;
    public double HitchX;
    public double HitchZ;
    public double HitchVx;
    public double HitchVz;
    public double HitchAcross;
    public double HitchAlong;
    public double SparDeflection;
    public double SparSlope;
    public Modes RingShortening;

    // Rope: from the rigging point to the hitch and to the device, and what follows.
    public double FromRingX;
    public double FromRingZ;
    public double ToDeviceX;
    public double ToDeviceZ;
    public double D1;
    public double D2;
    public double LegAngleRate;
    public double PerL1;
    public double PerL2;
    public double U1X;
    public double U1Z;
    public double U2X;
    public double U2Z;
    public double D1Rate;
    public double D2Rate;
    public double E1;
    public double E2;
    public double Lasting1;
    public double Lasting2;
    public double Free1;
    public double Free2;
    public double LegAngle;
    public double Wrap;
    public double RhoBearing;
    public double RhoSliding;
    public double HandForce;
    public double HandCapacity;
    public double WrapsCapacity;
    public double DeviceRatio;
    public NetworkNumbers Numbers;
    public NetworkFlow Flow;
    public NetworkBranch Branch;
    public bool WrapsGive;

    // Forces.
    public double ForceX;
    public double ForceZ;
    public double HingeX;
    public double HingeZ;
    public double ContactForce;
    public int ContactCount;
    public ContactLoads Contacts;
    public double ContactEnergy;
    public double ContactLoss;
    public double PushX;
    public double PushZ;
    public double PushLean;

    // Rates.
    public double Ax;
    public double Az;
    public double LeanAcceleration;
    public Modes ModeAcceleration;

    // Guards of contact places, and their closing speeds.
    public ContactValues ContactGuard;
    public ContactValues Penetration;
    public ContactValues PenetrationRate;
}
