namespace DropSim.Scenarios;

/// <summary>Finds the known name nearest to a mistyped one (edit distance with neighbouring letters swapped counted once).</summary>
internal static class NearestName
{
    /// <summary>Longest name compared: a hostile one must not cost time.</summary>
    private const int LongestName = 60;

    /// <summary>The nearest of <paramref name="known"/>, or null where none is near enough to be meant.</summary>
    public static string? Of(string name, IReadOnlyCollection<string> known)
    {
        if (name.Length > LongestName)
        {
            return null;
        }

        string? best = null;
        int bestDistance = Math.Max(2, name.Length / 3) + 1;
        foreach (string candidate in known)
        {
            int distance = Distance(Normal(name), Normal(candidate));
            if (distance < bestDistance)
            {
                bestDistance = distance;
                best = candidate;
            }
        }

        return best ?? known.FirstOrDefault(k => name.Length >= 3 && k.Contains(name, StringComparison.OrdinalIgnoreCase));
    }

    private static string Normal(string name) => new([.. name.Where(char.IsLetterOrDigit).Select(char.ToLowerInvariant)]);

    private static int Distance(string a, string b)
    {
        int width = b.Length + 1;
        int[] d = new int[(a.Length + 1) * width];
        for (int i = 0; i <= a.Length; i++)
        {
            for (int j = 0; j <= b.Length; j++)
            {
                if (i == 0 || j == 0)
                {
                    d[(i * width) + j] = i + j;
                    continue;
                }

                int change = a[i - 1] == b[j - 1] ? 0 : 1;
                d[(i * width) + j] = Math.Min(Math.Min(d[((i - 1) * width) + j] + 1, d[(i * width) + j - 1] + 1), d[((i - 1) * width) + j - 1] + change);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    d[(i * width) + j] = Math.Min(d[(i * width) + j], d[((i - 2) * width) + j - 2] + 1);
                }
            }
        }

        return d[^1];
    }
}
