using System.Reflection;
using System.Runtime.InteropServices.JavaScript;
using System.Runtime.Versioning;
using DropSim.Session;

namespace DropSim.Lesson;

/// <summary>What the page's script calls.</summary>
[SupportedOSPlatform("browser")]
internal static partial class Engine
{
    private static readonly string Version =
        typeof(Engine).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown";

    private static readonly LessonSession Session = new(Version);

    /// <summary>One question, one answer, both JSON.</summary>
    [JSExport]
    internal static string Answer(string verb, string request) => Session.Answer(verb, request);

    /// <summary>The curves of a run, column after column.</summary>
    [JSExport]
    internal static double[] Curves(int run) => Session.Curves(run);
}
