namespace DropSim.Model;

/// <summary>The spar cannot stand: its stiffness, less what its own weight and the climber take from it, is not positive.</summary>
public sealed class UnstableSparException : Exception
{
    /// <summary>Creates the exception with a general message.</summary>
    public UnstableSparException()
        : this("The spar's stiffness is not positive: it falls by itself.")
    {
    }

    /// <summary>Creates the exception with a message.</summary>
    /// <param name="message">What was found.</param>
    public UnstableSparException(string message)
        : base(message)
    {
    }

    /// <summary>Creates the exception with a message and the failure behind it.</summary>
    /// <param name="message">What was found.</param>
    /// <param name="innerException">The failure behind it.</param>
    public UnstableSparException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
