using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;

namespace DropSim.Cli;

/// <summary>Options that want a number or one of some words, and say so by their name where they get something else.</summary>
internal static class TypedOptions
{
    /// <summary>A whole number between limits.</summary>
    /// <param name="name">Name of the option.</param>
    /// <param name="says">What it does.</param>
    /// <param name="standard">Where nobody gives one.</param>
    /// <param name="least">Smallest.</param>
    /// <param name="most">Largest.</param>
    public static Option<int> Number(string name, string says, Func<int> standard, int least, int most) => new(name)
    {
        Description = says,
        DefaultValueFactory = _ => standard(),
        CustomParser = r =>
        {
            if (int.TryParse(r.Tokens[0].Value, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most)
            {
                return number;
            }

            r.AddError(FormattableString.Invariant($"{name}: found '{r.Tokens[0].Value}'; expected a whole number from {least} to {most}."));
            return standard();
        },
    };

    /// <summary>A number between limits.</summary>
    /// <param name="name">Name of the option.</param>
    /// <param name="says">What it does.</param>
    /// <param name="standard">Where nobody gives one.</param>
    /// <param name="least">Smallest.</param>
    /// <param name="most">Largest.</param>
    public static Option<double> Number(string name, string says, double standard, double least, double most) => new(name)
    {
        Description = says,
        DefaultValueFactory = _ => standard,
        CustomParser = r =>
        {
            if (double.TryParse(r.Tokens[0].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most)
            {
                return number;
            }

            r.AddError($"{name}: found '{r.Tokens[0].Value}'; expected a number from {Short(least)} to {Short(most)}.");
            return standard;
        },
    };

    /// <summary>Refuses all but some words.</summary>
    /// <param name="option">The option.</param>
    /// <param name="words">The words.</param>
    public static void Only(this Option option, params string[] words)
    {
        option.CompletionSources.Add(words);
        option.Validators.Add(r => Check(r, option.Name, words));
    }

    /// <summary>Refuses all but some words.</summary>
    /// <param name="argument">The argument.</param>
    /// <param name="words">The words.</param>
    public static void Only(this Argument argument, params string[] words)
    {
        argument.CompletionSources.Add(words);
        argument.Validators.Add(r => Check(r, argument.Name, words));
    }

    private static void Check(SymbolResult result, string name, string[] words)
    {
        foreach (var token in result.Tokens.Where(t => !words.Contains(t.Value)))
        {
            result.AddError($"{name}: found '{token.Value}'; expected {(words.Length == 2 ? string.Join(" or ", words) : "one of " + string.Join(", ", words))}.");
        }
    }

    private static string Short(double number) => number.ToString("0.#e-0", CultureInfo.InvariantCulture);
}
