namespace DropSim.Model;

/// <summary>The fixed ids of the measures, as in summary.json. Headline measures first, in their order.</summary>
public static class MeasureIds
{
    /// <summary>Largest resultant of both legs on the rigging point, N. Headline.</summary>
    public const string RiggingPointForce = "rigging_point_force";

    /// <summary>Smallest room under the piece, to ground or obstacle, m. Headline.</summary>
    public const string Room = "room_left";

    /// <summary>Largest movement of the spar at the climber's feet, m. Headline.</summary>
    public const string ClimberMovement = "climber_movement";

    /// <summary>The same before the piece first hits the spar, m.</summary>
    public const string ClimberMovementBeforeHit = "climber_movement_before_hit";

    /// <summary>Largest turn of the stem's foot in its root, rad.</summary>
    public const string FootTurn = "foot_turn";

    /// <summary>How long the foot is turned beyond its root's straight range, s.</summary>
    public const string FootTurnTime = "foot_turn_time";

    /// <summary>Pull at the foot over that of a slow pull which uproots such a stem; never told above 1.</summary>
    public const string UprootingShare = "uprooting_share";

    /// <summary>Largest force the hand must hold, N. Headline.</summary>
    public const string HandForce = "hand_force";

    /// <summary>Rope run through the device, m. Headline.</summary>
    public const string RopeRun = "rope_run";

    /// <summary>Largest load-leg tension, N.</summary>
    public const string LoadLegTension = "load_leg_tension";

    /// <summary>Largest load-leg tension over the piece's weight.</summary>
    public const string LoadLegTimesWeight = "load_leg_times_weight";

    /// <summary>Largest ground-leg tension, N.</summary>
    public const string GroundLegTension = "ground_leg_tension";

    /// <summary>Largest rigging-point force over the piece's weight.</summary>
    public const string RiggingPointTimesWeight = "rigging_point_times_weight";

    /// <summary>Largest speed of the spar at the climber's feet, m/s.</summary>
    public const string ClimberSpeed = "climber_speed";

    /// <summary>Time for the sway to fall to a twentieth, s.</summary>
    public const string SettleTime = "sway_settle_time";

    /// <summary>Largest raw acceleration at the climber's feet, m/s2.</summary>
    public const string ClimberAcceleration = "climber_acceleration";

    /// <summary>Largest 1 s running r.m.s. of the weighted acceleration (MTVV), m/s2.</summary>
    public const string ClimberMtvv = "climber_mtvv";

    /// <summary>Vibration dose value of the weighted acceleration, m/s^1.75.</summary>
    public const string ClimberVdv = "climber_vdv";

    /// <summary>Fastest rope through the device, m/s.</summary>
    public const string RopeSpeed = "rope_speed_at_device";

    /// <summary>Largest bending moment at the spar's base, strikes left out, N m.</summary>
    public const string BaseMoment = "spar_base_moment";

    /// <summary>Largest bending moment at the spar's base, strikes included, N m.</summary>
    public const string BaseMomentWithStrikes = "spar_base_moment_with_strikes";

    /// <summary>Largest stress in the spar, Pa.</summary>
    public const string SparStress = "spar_stress";

    /// <summary>Height of the largest stress, m.</summary>
    public const string SparStressHeight = "spar_stress_height";

    /// <summary>Largest hinge reaction, N.</summary>
    public const string HingeForce = "hinge_force";

    /// <summary>Sway frequency of the spar with the climber, Hz.</summary>
    public const string SwayFrequency = "sway_frequency";

    /// <summary>Largest tip deflection, m.</summary>
    public const string TipDeflection = "tip_deflection";

    /// <summary>Rope slipped over the rigging point toward the piece, m.</summary>
    public const string RopeSlip = "rope_slip";

    /// <summary>Time from hinge break to the first taut of the load leg, s.</summary>
    public const string TimeToTaut = "time_to_taut";

    /// <summary>Time from hinge break to the largest load-leg tension, s.</summary>
    public const string TimeToPeak = "time_to_peak";

    /// <summary>Least possible peak of the load leg with the travel that was used, N.</summary>
    public const string LeastPossible = "least_possible_load_leg";

    /// <summary>Planning form m g (1 + h / s), N.</summary>
    public const string PlanningForce = "planning_force";

    /// <summary>Drop to taut that anyone can work out by hand, an upper value, m.</summary>
    public const string HandDropToTaut = "drop_to_taut_by_hand";

    /// <summary>Drop of the piece's hitch before the load leg came taut, m.</summary>
    public const string DropToTaut = "drop_to_taut";

    /// <summary>Heat at the device, upper bound of the rope's temperature rise per pass, K.</summary>
    public const string RopeHeat = "rope_temperature_rise";

    /// <summary>Heat at the device, upper bound of the device's skin temperature rise, K.</summary>
    public const string DeviceHeat = "device_skin_temperature_rise";

    /// <summary>Load on the weakest link of the load chain as a fraction of its breaking strength, new and dry.</summary>
    public const string WeakestLink = "weakest_link_fraction";

    /// <summary>Largest vertical load as a fraction of the spar's buckling load.</summary>
    public const string BucklingFraction = "buckling_fraction";

    /// <summary>Strongest strike, energy along the normal, J.</summary>
    public const string StrikeEnergy = "largest_strike_energy";
}
