using System.Text.Json;
using System.Text.Json.Serialization;

namespace DropSim.Session;

/// <summary>A number in JSON; what is not finite is null, as in summary.json.</summary>
internal sealed class FiniteNumber : JsonConverter<double>
{
    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetDouble();

    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        if (double.IsFinite(value))
        {
            writer.WriteNumberValue(value);
        }
        else
        {
            writer.WriteNullValue();
        }
    }
}
