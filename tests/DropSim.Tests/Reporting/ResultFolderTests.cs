using System.Diagnostics;
using System.Net.Sockets;
using System.Text;
using DropSim.Reporting.Files;

namespace DropSim.Tests.Reporting;

public sealed class ResultFolderTests : IDisposable
{
    private static readonly string[] FirstNames = ["a.csv", "b.png", "gone.csv"];
    private static readonly string[] TakenNames = ["a.csv", "summary.json"];
    private static readonly string[] SecondNames = ["a.csv", "b.png", "come.csv"];

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    private string Target => Path.Combine(_folder, "log");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact(Timeout = 60_000)]
    public async Task What_is_not_ours_stays_where_it_lies_and_is_neither_followed_nor_opened_nor_copied()
    {
        await Task.Run(() =>
        {
            Write("old", FirstNames);
            var outside = Directory.CreateDirectory(Path.Combine(_folder, "outside")).FullName;
            File.WriteAllText(Path.Combine(outside, "photo.jpg"), "a photograph");
            Directory.CreateDirectory(Path.Combine(Target, "empty"));
            File.WriteAllText(Path.Combine(Directory.CreateDirectory(Path.Combine(Target, "mine", "deep")).FullName, "x.txt"), "x");
            File.WriteAllText(Path.Combine(Target, "read-only.txt"), "r");
            File.SetAttributes(Path.Combine(Target, "read-only.txt"), FileAttributes.ReadOnly);
            File.WriteAllText(Path.Combine(Target, "nothing.txt"), "");
            if (!OperatingSystem.IsWindows())
            {
                File.CreateSymbolicLink(Path.Combine(Target, "up"), "..");
                File.CreateSymbolicLink(Path.Combine(Target, "self"), ".");
                File.CreateSymbolicLink(Path.Combine(Target, "dangling"), "nowhere");
                File.CreateSymbolicLink(Path.Combine(Target, "photo.jpg"), Path.Combine("..", "outside", "photo.jpg"));
                Pipe(Path.Combine(Target, "pipe"));
            }

            var before = Entries(Target).Where(e => !FirstNames.Contains(e) && e != "summary.json").ToArray();

            Write("new", SecondNames).Kept.Should().BeEmpty();

            Entries(Target).Where(e => !SecondNames.Contains(e) && e != "summary.json").Should().BeEquivalentTo(before);
            State().Should().Be("new");
            File.ReadAllText(Path.Combine(Target, "mine", "deep", "x.txt")).Should().Be("x");
            File.ReadAllText(Path.Combine(outside, "photo.jpg")).Should().Be("a photograph");
            Entries(_folder).Should().BeEquivalentTo("log", "outside");
            if (!OperatingSystem.IsWindows())
            {
                new FileInfo(Path.Combine(Target, "dangling")).LinkTarget.Should().Be("nowhere");
                new FileInfo(Path.Combine(Target, "up")).LinkTarget.Should().Be("..");
            }
        });
    }

    [Theory(Timeout = 60_000)]
    [InlineData("text")]
    [InlineData("empty")]
    [InlineData("folder")]
    [InlineData("link")]
    [InlineData("link to a folder")]
    [InlineData("dangling link")]
    [InlineData("pipe")]
    [InlineData("socket")]
    public async Task Something_that_has_the_name_of_a_file_of_ours_is_kept_under_another_name_and_told(string kind)
    {
        await Task.Run(() =>
        {
            if (OperatingSystem.IsWindows() && kind is "pipe" or "socket")
            {
                return;
            }

            Directory.CreateDirectory(Target);
            File.WriteAllText(Path.Combine(_folder, "outside.txt"), "outside");
            foreach (var name in TakenNames)
            {
                Make(kind, Path.Combine(Target, name));
            }

            Write("new", FirstNames).Kept.Should().Equal(new KeptFile("a.csv", "a (kept).csv"), new KeptFile("summary.json", "summary (kept).json"));

            State().Should().Be("new");
            foreach (var name in TakenNames.Select(n => n.Replace(".", " (kept).", StringComparison.Ordinal)))
            {
                Is(kind, Path.Combine(Target, name)).Should().BeTrue($"{name} is the {kind} that was there");
            }

            File.ReadAllText(Path.Combine(_folder, "outside.txt")).Should().Be("outside");

            Write("newer", FirstNames).Kept.Should().BeEmpty("now the names are this program's");
            State().Should().Be("newer");
            Is(kind, Path.Combine(Target, "a (kept).csv")).Should().BeTrue();
        });
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Killed_before_any_of_its_moves_it_leaves_the_old_result_or_none_and_the_next_run_finds_the_new_one(bool computedAgain)
    {
        var killed = 0;
        for (; ; killed++)
        {
            Write("old", FirstNames);
            File.WriteAllText(Path.Combine(Target, "notes.txt"), "mine");
            File.WriteAllText(Path.Combine(Target, "come.csv"), "mine too");
            var left = killed;
            try
            {
                Write("new", SecondNames, () =>
                {
                    if (left-- == 0)
                    {
                        throw new InvalidOperationException();
                    }
                });
                break;
            }
            catch (InvalidOperationException)
            {
                State().Should().BeOneOf(["old", "none"], $"killed before move {killed}");
            }

            if (computedAgain)
            {
                Write("newer", SecondNames);
                State().Should().Be("newer");
            }
            else
            {
                ResultFolder.Prepare(_folder, "log").Should().BeNull();
                State().Should().Be("new");
            }

            Entries(_folder).Should().Equal("log");
            File.ReadAllText(Path.Combine(Target, "notes.txt")).Should().Be("mine");
            File.ReadAllText(Path.Combine(Target, "come (kept).csv")).Should().Be("mine too");
            Directory.Delete(Target, recursive: true);
        }

        killed.Should().Be(10, "one look, four old files out, one of somebody else's aside, four new ones in");
        State().Should().Be("new");
    }

    [Fact]
    public void A_move_that_fails_leaves_the_folder_as_it_was()
    {
        for (var failing = 0; ; failing++)
        {
            Write("old", FirstNames);
            File.WriteAllText(Path.Combine(Target, "come.csv"), "mine");
            var before = Entries(Target);
            var left = failing;
            try
            {
                Write("new", SecondNames, () =>
                {
                    if (left-- == 0)
                    {
                        throw new IOException("no space left on device");
                    }
                });
                failing.Should().Be(10);
                break;
            }
            catch (IOException)
            {
                Entries(Target).Should().BeEquivalentTo(before, $"move {failing} failed");
                State().Should().Be("old");
                File.ReadAllText(Path.Combine(Target, "come.csv")).Should().Be("mine");
                Entries(_folder).Should().Equal("log");
            }
        }
    }

    [Fact]
    public void Two_writers_at_once_leave_one_of_their_results()
    {
        Parallel.For(0, 24, new ParallelOptions { MaxDegreeOfParallelism = 6 }, i => Write(i % 2 == 0 ? "even" : "odd", i % 3 == 0 ? FirstNames : SecondNames));

        State().Should().BeOneOf("even", "odd");
        Entries(_folder).Should().Equal("log");
    }

    [Fact]
    public void What_a_killed_run_left_is_swept_but_not_what_a_running_one_writes()
    {
        Write("old", FirstNames);
        var place = new ResultPlace(_folder, "log");
        File.WriteAllText(Path.Combine(Directory.CreateDirectory(place.New).FullName, "a.csv"), "half");
        using (ResultLock.Try(place.Lock))
        {
            ResultFolder.Prepare(_folder, "log").Should().BeNull();
            File.Exists(Path.Combine(place.New, "a.csv")).Should().BeTrue("somebody holds the lock");
            ResultLock.Try(place.Lock).Should().BeNull();
        }

        File.WriteAllText(place.Lock, "");
        Directory.CreateDirectory(Path.Combine(_folder, ".other.dropsim-new"));
        ResultFolder.Prepare(_folder, "log").Should().BeNull();

        Entries(_folder).Should().BeEquivalentTo("log", ".other.dropsim-new");
        State().Should().Be("old");
    }

    [Fact]
    public void A_folder_that_is_a_link_a_file_or_too_long_is_refused_and_left_alone()
    {
        var elsewhere = Directory.CreateDirectory(Path.Combine(_folder, "elsewhere")).FullName;
        Directory.CreateSymbolicLink(Target, elsewhere);
        ResultFolder.Prepare(_folder, "log").Should().Be(PlaceObstacle.IsLink);
        ((Action)(() => Write("new", FirstNames))).Should().Throw<IOException>();
        new DirectoryInfo(Target).LinkTarget.Should().Be(elsewhere);
        Entries(elsewhere).Should().BeEmpty();
        Directory.Delete(Target);

        File.WriteAllText(Target, "a file");
        ResultFolder.Prepare(_folder, "log").Should().Be(PlaceObstacle.IsFile);
        ((Action)(() => Write("new", FirstNames))).Should().Throw<IOException>();
        File.ReadAllText(Target).Should().Be("a file");
        File.Delete(Target);

        ResultFolder.Prepare(Path.Combine(_folder, new string('x', 300)), "log").Should().Be(PlaceObstacle.TooLong);
        ResultFolder.Prepare(Path.Combine(_folder, "new", new string('x', 300)), "log").Should().Be(PlaceObstacle.TooLong);
        ResultFolder.Prepare(_folder + string.Concat(Enumerable.Repeat("/" + new string('x', 200), 200)), "log").Should().Be(PlaceObstacle.TooLong);
        ResultFolder.Prepare(Path.Combine(_folder, new string('x', 200)), "log").Should().BeNull();
        Entries(_folder).Should().Equal("elsewhere");
    }

    [Fact]
    public void One_folder_holds_one_result_of_whichever_kind()
    {
        Write("old", FirstNames);

        ResultFolder.Write(_folder, "log", Files("new", ["z.csv"], ResultIndex.OfStudy), 2, default);

        Entries(Target).Should().BeEquivalentTo("z.csv", "study.json");
    }

    [Fact]
    public void A_name_stays_short_in_bytes_too()
    {
        // Two of them and an ending are a comparison's name; file systems allow 255 bytes.
        var name = FileNames.Clean(new string('木', 60));

        Encoding.UTF8.GetByteCount($"compare-{name}-2-vs-{name}-3.png").Should().BeLessThanOrEqualTo(255);
        ((Action)(() => FileNames.Clean(string.Concat(Enumerable.Repeat("🌲", 60))))).Should().NotThrow();
    }

    private WrittenFolder Write(string content, string[] names, Action? beforeMove = null) =>
        ResultFolder.Write(_folder, "log", Files(content, names, ResultIndex.OfScenario), 2, default, beforeMove);

    private static List<ResultFile> Files(string content, string[] names, string index)
    {
        var listed = string.Join(", ", names.Append(index).Select(n => $"\"{n}\""));
        return
        [
            .. names.Select(n => new ResultFile(n, s => s.Write(Encoding.UTF8.GetBytes(content)))),
            new(index, s => s.Write(Encoding.UTF8.GetBytes($"{{\"content\": \"{content}\", \"files\": [{listed}]}}"))),
        ];
    }

    /// <summary>Which result the folder holds: of an index that lists itself every file has to be there, and of the same run.</summary>
    private string State()
    {
        var listed = ResultIndex.Listed(Target);
        if (listed.Count == 0)
        {
            return "none";
        }

        var contents = listed.Where(n => n != "summary.json").Select(n => File.ReadAllText(Path.Combine(Target, n))).Distinct().ToArray();
        contents.Should().ContainSingle("a result is of one run");
        File.ReadAllText(Path.Combine(Target, "summary.json")).Should().Contain($"\"{contents[0]}\"");
        return contents[0];
    }

    private static string[] Entries(string folder) => [.. Directory.EnumerateFileSystemEntries(folder).Select(e => Path.GetFileName(e)).Order(StringComparer.Ordinal)];

    private static void Make(string kind, string path)
    {
        switch (kind)
        {
            case "text": File.WriteAllText(path, "mine"); break;
            case "empty": File.WriteAllText(path, ""); break;
            case "folder": Directory.CreateDirectory(path); break;
            case "link": File.CreateSymbolicLink(path, Path.Combine("..", "outside.txt")); break;
            case "link to a folder": Directory.CreateSymbolicLink(path, ".."); break;
            case "dangling link": File.CreateSymbolicLink(path, "nowhere"); break;
            case "pipe": Pipe(path); break;
            default:
                using (var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified))
                {
                    socket.Bind(new UnixDomainSocketEndPoint(path));
                    File.Move(path, path + ".bound", overwrite: true);
                }

                File.Move(path + ".bound", path, overwrite: true);
                break;
        }
    }

    private static bool Is(string kind, string path) => kind switch
    {
        "text" => File.ReadAllText(path) == "mine",
        "folder" => Directory.Exists(path) && !ResultPlace.IsLink(path),
        "link" => new FileInfo(path).LinkTarget == Path.Combine("..", "outside.txt"),
        "link to a folder" => new DirectoryInfo(path).LinkTarget == "..",
        "dangling link" => new FileInfo(path).LinkTarget == "nowhere",
        _ => File.Exists(path) && new FileInfo(path).Length == 0,
    };

    private static void Pipe(string path)
    {
        using var made = Process.Start("mkfifo", [path]);
        made.WaitForExit();
        made.ExitCode.Should().Be(0);
    }
}
