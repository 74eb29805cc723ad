using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Documents;

/// <summary>The JSON schema with which editors complete and check a scenario while it is written; made from the key table.</summary>
public static class ScenarioSchema
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The schema as JSON text.</summary>
    public static string Json()
    {
        JsonObject schema = Table("", "");
        schema.Insert(0, "$schema", "http://json-schema.org/draft-07/schema#");
        schema.Insert(1, "title", "DropSim scenario");
        return schema.ToJsonString(Indented) + "\n";
    }

    private static JsonObject Table(string section, string says)
    {
        JsonObject properties = [];
        foreach (KeySpec key in KeyTable.Of(section))
        {
            properties[key.Name] = Key(key);
        }

        foreach (SectionSpec sub in KeyTable.Sections.Where(s => IsChild(s.Name, section)))
        {
            JsonObject table = Table(sub.Name, sub.Says);
            if (sub.Name == "setup")
            {
                JsonObject own = table["properties"]!.AsObject();
                foreach (SectionSpec over in KeyTable.Sections.Where(s => s.InSetup && IsChild(s.Name, "")))
                {
                    JsonObject inner = Table(over.Name, over.Says);
                    own[over.Name] = over.Array ? ListOf(inner) : inner;
                }
            }

            properties[section.Length == 0 ? sub.Name : sub.Name[(section.Length + 1)..]] = sub.Array ? ListOf(table) : table;
        }

        JsonObject result = new() { ["type"] = "object", ["additionalProperties"] = false, ["properties"] = properties };
        if (says.Length > 0)
        {
            result.Insert(0, "description", says);
        }

        return result;
    }

    private static bool IsChild(string name, string section)
    {
        string prefix = section.Length == 0 ? "" : section + ".";
        return name.Length > prefix.Length && name.StartsWith(prefix, StringComparison.Ordinal) && !name[prefix.Length..].Contains('.', StringComparison.Ordinal);
    }

    private static JsonObject ListOf(JsonObject items) => new() { ["type"] = "array", ["items"] = items };

    private static JsonObject Key(KeySpec key)
    {
        JsonObject result = new() { ["description"] = $"{key.Says} {Describe(key)}".Trim() };
        switch (key.Kind)
        {
            case ValueKind.OfKey:
                result["type"] = new JsonArray("string", "number");
                break;
            case ValueKind.Flag:
                result["type"] = "boolean";
                break;
            case ValueKind.Texts:
                result["type"] = "array";
                result["items"] = new JsonObject { ["type"] = "string" };
                break;
            case ValueKind.Choice:
                result["enum"] = new JsonArray([.. key.Choices.Select(c => (JsonNode)c)]);
                break;
            case ValueKind.Items:
                JsonObject properties = [];
                foreach (KeySpec item in key.Items)
                {
                    properties[item.Name] = Key(item);
                }

                result["type"] = "array";
                result["items"] = new JsonObject { ["type"] = "object", ["additionalProperties"] = false, ["properties"] = properties };
                break;
            case ValueKind.Quantity:
                Quantity(key, result);
                break;
            default:
                result["type"] = "string";
                break;
        }

        return result;
    }

    private static void Quantity(KeySpec key, JsonObject result)
    {
        JsonObject[] forms =
        [
            new() { ["type"] = "string", ["examples"] = new JsonArray(UnitTable.For(key.Quantity).Example) },
            .. UnitTable.For(key.Quantity).BareAllowed ? (JsonObject[])[new() { ["type"] = "number" }] : [],
            .. key.MayRange ? (JsonObject[])[RangeForm(key)] : [],
        ];
        if (forms.Length == 1)
        {
            result["type"] = "string";
            result["examples"] = new JsonArray(UnitTable.For(key.Quantity).Example);
            return;
        }

        result["anyOf"] = new JsonArray([.. forms]);
    }

    private static JsonObject RangeForm(KeySpec key)
    {
        JsonObject properties = [];
        foreach (string bound in new[] { "value", "low", "high" })
        {
            properties[bound] = new JsonObject { ["type"] = UnitTable.For(key.Quantity).BareAllowed ? new JsonArray("string", "number") : "string" };
        }

        return new JsonObject
        {
            ["type"] = "object",
            ["additionalProperties"] = false,
            ["required"] = new JsonArray("value", "low", "high"),
            ["properties"] = properties,
        };
    }

    private static string Describe(KeySpec key)
    {
        string limits = key.Kind == ValueKind.Quantity && (double.IsFinite(key.Least) || double.IsFinite(key.Most)) ? $"Limits: {ValueReader.Limits(key)}. " : "";
        return limits + (key.Required ? "Needed." : $"Default: {FormatTables.DefaultText(key)}.");
    }
}
