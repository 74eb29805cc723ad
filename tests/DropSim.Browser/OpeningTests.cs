namespace DropSim.Browser;

/// <summary>One file, opened from the disk.</summary>
[Collection(ShippedPageTests.Name)]
public sealed class OpeningTests(ShippedPage shipped)
{
    [BrowserFact]
    public async Task The_page_opens_from_the_disk_computes_in_a_worker_and_asks_the_network_for_nothing()
    {
        var open = shipped.Open;

        (await open.Page.EvaluateAsync<string>("() => lessonEngine.mode")).Should().Be("worker");
        open.Requests.Should().OnlyContain(r => r.StartsWith("file:", StringComparison.Ordinal) || r.StartsWith("blob:", StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal));
        open.Complaints.Should().BeEmpty();
    }
}
