using System.Text.Json;

namespace DropSim.Reporting;

/// <summary>Pieces that every JSON file of results is made of.</summary>
internal static class JsonParts
{
    /// <summary>An array of objects.</summary>
    internal static void Array<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            write(json, item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>An array of texts.</summary>
    internal static void Strings(Utf8JsonWriter json, string name, IEnumerable<string> items)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStringValue(item);
        }

        json.WriteEndArray();
    }

    /// <summary>A number; null where it does not exist.</summary>
    internal static void Number(Utf8JsonWriter json, string name, double value)
    {
        json.WritePropertyName(name);
        Number(json, value);
    }

    /// <summary>A number within an array; null where it does not exist.</summary>
    internal static void Number(Utf8JsonWriter json, double value)
    {
        if (double.IsFinite(value))
        {
            json.WriteNumberValue(value);
        }
        else
        {
            json.WriteNullValue();
        }
    }
}
