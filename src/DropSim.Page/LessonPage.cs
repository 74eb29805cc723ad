using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DropSim.Page;

/// <summary>
/// Writes the lesson page as one HTML file that needs nothing else: styles, scripts, the engine and the scenarios stand inside,
/// and its content security policy lets it run these very scripts and reach no other place.
/// </summary>
public static partial class LessonPage
{
    private const string PagePrefix = "page/";
    private const string EnginePrefix = "engine/";
    private const string DataMark = "<script type=\"application/json\" id=\"lesson-data\"></script>";
    private const string HeadMark = "<head>";
    private const string BodyEnd = "</body>";

    /// <summary>Styles and scripts inside, data and policy still to come; made once.</summary>
    private static readonly Lazy<(string Html, string Policy)> Template = new(MakeTemplate);

    /// <summary>The packed engine as elements of the page; made once, because it is most of the file.</summary>
    private static readonly Lazy<byte[]> Engine = new(MakeEngine);

    /// <summary>The page's content security policy, for a server that sends it as a header too.</summary>
    public static string Policy => Template.Value.Policy;

    /// <summary>Writes a page.</summary>
    /// <param name="stream">Where to.</param>
    /// <param name="data">What it opens with.</param>
    public static void Write(Stream stream, LessonData data)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(data);
        var html = Template.Value.Html;
        var at = html.IndexOf(DataMark, StringComparison.Ordinal);
        var end = html.LastIndexOf(BodyEnd, StringComparison.Ordinal);

        Text(html.AsSpan(0, at));
        Text("<script type=\"application/json\" id=\"lesson-data\">");
        Text(JsonSerializer.Serialize(data, LessonJson.Default.LessonData));
        Text("</script>");
        Text(html.AsSpan(at + DataMark.Length, end - at - DataMark.Length));
        stream.Write(Engine.Value);
        Text(html.AsSpan(end));

        void Text(ReadOnlySpan<char> part)
        {
            var bytes = new byte[Encoding.UTF8.GetByteCount(part)];
            Encoding.UTF8.GetBytes(part, bytes);
            stream.Write(bytes);
        }
    }

    private static (string Html, string Policy) MakeTemplate()
    {
        var html = Resource(PagePrefix + "index.html");
        var styles = new List<string>();
        var scripts = new List<string>();
        html = StyleLink().Replace(html, link =>
        {
            var style = Resource(PagePrefix + link.Groups["name"].Value);
            styles.Add(Hash(style));
            return $"<style>{style}</style>";
        });
        html = ScriptLink().Replace(html, link =>
        {
            var script = Resource(PagePrefix + link.Groups["name"].Value);
            if (script.Contains("</script", StringComparison.OrdinalIgnoreCase) || script.Contains("<!--", StringComparison.Ordinal))
            {
                throw new InvalidOperationException($"The page's {link.Groups["name"].Value} holds text that would end its own element.");
            }

            scripts.Add(Hash(script));
            return $"<script>{script}</script>";
        });

        foreach (var mark in new[] { DataMark, HeadMark, BodyEnd })
        {
            if (!html.Contains(mark, StringComparison.Ordinal))
            {
                throw new InvalidOperationException($"The page's index.html has no {mark}.");
            }
        }

        // Scripts: those written here, by their hashes; the engine's own, unpacked into blobs; WebAssembly. Nothing may be fetched from anywhere.
        var policy = $"default-src 'none'; script-src {string.Join(' ', scripts)} blob: 'wasm-unsafe-eval'; worker-src blob:; "
            + $"style-src {(styles.Count == 0 ? "'none'" : string.Join(' ', styles))}; img-src data: blob:; base-uri 'none'; form-action 'none'";
        var meta = $"<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">";
        var head = html.IndexOf(HeadMark, StringComparison.Ordinal) + HeadMark.Length;
        return (html.Insert(head, "\n<meta charset=\"utf-8\">\n" + meta), policy);
    }

    private static byte[] MakeEngine()
    {
        var text = new StringBuilder();
        foreach (var name in Assembly.GetExecutingAssembly().GetManifestResourceNames().Where(n => n.StartsWith(EnginePrefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            text.Append("<script type=\"application/octet-stream\" data-part=\"").Append(name.AsSpan(EnginePrefix.Length)).Append("\">")
                .Append(Convert.ToBase64String(Bytes(name))).Append("</script>\n");
        }

        return Encoding.ASCII.GetBytes(text.ToString());
    }

    private static string Hash(string text) => $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)))}'";

    /// <summary>A text of the page, with the line ends that a browser sees: it counts them into the hash.</summary>
    private static string Resource(string name) => Encoding.UTF8.GetString(Bytes(name)).TrimStart('\ufeff').Replace("\r\n", "\n", StringComparison.Ordinal);

    private static byte[] Bytes(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The page links '{name}', which is not there.");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }

    [GeneratedRegex("<link rel=\"stylesheet\" href=\"(?<name>[A-Za-z0-9.-]+)\">")]
    private static partial Regex StyleLink();

    [GeneratedRegex("<script src=\"(?<name>[A-Za-z0-9.-]+)\"></script>")]
    private static partial Regex ScriptLink();
}
