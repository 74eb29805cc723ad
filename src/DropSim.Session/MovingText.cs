using System.Text;
using DropSim.Scenarios;
using DropSim.Scenarios.Keys;

namespace DropSim.Session;

/// <summary>
/// The text under a slider that moves: parsed once, and read with the slider's value laid over it. Writing the value into the text and parsing
/// that again costs the browser as much as a fifth of the drop, at every move.
/// </summary>
internal sealed class MovingText
{
    private ScenarioDraft? _draft;
    private string _text = "";
    private string _file = "";

    /// <summary>
    /// The cases asked for with the edits; null where only the text itself can tell: an edit that brings others with it, takes a value away or
    /// stands for a list, more set-ups than one, or something that is refused and must name its line.
    /// </summary>
    public ScenarioReadResult? Read(SimulateRequest request, IReadOnlyCollection<int> cases)
    {
        if (request.Edits is not { Count: > 0 } edits || !edits.All(IsPlain))
        {
            return null;
        }

        if (_draft is null || _text != request.Text || _file != request.File)
        {
            _draft = ScenarioReader.Open(Encoding.UTF8.GetBytes(request.Text), request.File);
            (_text, _file) = (request.Text, request.File);
        }

        IReadOnlyList<string> catches = _draft.Catches;
        if (_draft.Setups.Count != 1 || catches.Count == 0)
        {
            return null;
        }

        ScenarioReadResult read = _draft.BuildOnly(
            cases, [.. edits.Select(e => new KeyChange(e.Key, e.Value!.Trim()) { Catch = KeyTable.ByPath[e.Key].Section == "catch" ? catches[e.Case % catches.Count] : null })]);
        return read.Scenario is null ? null : read;
    }

    private static bool IsPlain(EditRequest edit) =>
        edit.Value is not null && edit.Case >= 0 && !Companions.MayNeed(edit.Key) && KeyTable.ByPath.TryGetValue(edit.Key, out KeySpec? spec) && KeyTable.MayChange(spec);
}
