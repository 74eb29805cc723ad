namespace DropSim.Lesson;

/// <summary>The page's script calls <see cref="Engine"/>; nothing happens by itself.</summary>
internal static class Program
{
    private static void Main()
    {
    }
}
