using System.Diagnostics;

namespace DropSim.Reporting.Files;

/// <summary>
/// Lets one writer at a time into a result folder, among all processes of the machine. The system lets go of it when a process ends,
/// however it ends.
/// </summary>
internal static class ResultLock
{
    /// <summary>Between two tries.</summary>
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(20);

    /// <summary>Longest wait for another writer. The largest results take half a minute.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(10);

    /// <summary>Takes the lock, waiting for another writer.</summary>
    /// <param name="path">The lock's file.</param>
    /// <param name="cancellation">Ends the waiting.</param>
    /// <returns>To be disposed of.</returns>
    /// <exception cref="IOException">The file cannot be made, or another writer does not come to an end.</exception>
    /// <exception cref="UnauthorizedAccessException">The file cannot be made.</exception>
    internal static IDisposable Wait(string path, CancellationToken cancellation)
    {
        var waited = Stopwatch.StartNew();
        IDisposable? held;
        while ((held = Try(path)) is null)
        {
            if (waited.Elapsed > Longest)
            {
                throw new IOException($"another run has been writing there for {Longest.TotalMinutes:F0} minutes");
            }

            cancellation.WaitHandle.WaitOne(Pause);
            cancellation.ThrowIfCancellationRequested();
        }

        return held;
    }

    /// <summary>Takes the lock where nobody holds it; null where somebody does.</summary>
    /// <param name="path">The lock's file.</param>
    internal static IDisposable? Try(string path)
    {
        try
        {
            // With these very options .NET removes the file before it lets go of the lock, and one that takes it makes sure that the file is still there.
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1, FileOptions.DeleteOnClose);
        }
        catch (IOException e) when (IsHeld(e))
        {
            return null;
        }
    }

    private static bool IsHeld(IOException e)
    {
        // Sharing violation, or lock violation, on Windows; EWOULDBLOCK on Linux and macOS.
        const int Sharing = unchecked((int)0x80070020);
        const int Locked = unchecked((int)0x80070021);
        return e.GetType() == typeof(IOException) && (OperatingSystem.IsWindows() ? e.HResult is Sharing or Locked : e.HResult is 11 or 35 or Sharing);
    }
}
