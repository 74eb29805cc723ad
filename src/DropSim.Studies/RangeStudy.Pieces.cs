using DropSim.Model;

namespace DropSim.Studies;

/// <content>The same study one run at a time, for a program that must answer between the runs.</content>
public static partial class RangeStudy
{
    /// <summary>The ranges of one case, computed one run at a time. The result is that of <see cref="Compute"/>, to the bit.</summary>
    internal sealed class Pieces
    {
        private readonly DropCase _case;
        private readonly DropRun _central;
        private readonly Runner _runner;
        private readonly List<Outcome> _found = [];
        private readonly List<Outcome> _batchFound = [];
        private readonly IEnumerator<List<double[]>>? _batches;
        private List<double[]> _batch = [];

        /// <summary>Begins; nothing is computed yet.</summary>
        /// <param name="dropCase">The case.</param>
        /// <param name="central">Its central run.</param>
        public Pieces(DropCase dropCase, DropRun central)
        {
            ArgumentNullException.ThrowIfNull(dropCase);
            ArgumentNullException.ThrowIfNull(central);
            _case = dropCase;
            _central = central;
            _runner = new Runner(dropCase, null, CancellationToken.None);
            _batches = dropCase.Ranges.Count == 0 ? null : Batches(dropCase, central, _found).GetEnumerator();
            Advance();
        }

        /// <summary>Runs done.</summary>
        public int Done => _found.Count + _batchFound.Count;

        /// <summary>Runs in all, about: how many the last batch needs is known only when the others are done.</summary>
        public int Total => IsComplete ? Done : Math.Max(Done + 1, ScenarioStudy.RunsOf(_case) - 1);

        /// <summary>True when nothing is left to compute.</summary>
        public bool IsComplete { get; private set; }

        /// <summary>The ranges over the runs so far.</summary>
        public CaseResult Result => _batches is null ? new(_case, _central, 0, "no ranges were given") : Gather(_case, _central, [.. _found, .. _batchFound]);

        /// <summary>Computes one run.</summary>
        public void Next()
        {
            if (!IsComplete)
            {
                _batchFound.Add(_runner.Run(_batch[_batchFound.Count]));
                Advance();
            }
        }

        private void Advance()
        {
            while (!IsComplete && _batchFound.Count == _batch.Count)
            {
                _found.AddRange(_batchFound);
                _batchFound.Clear();
                if (_batches?.MoveNext() == true)
                {
                    _batch = _batches.Current;
                }
                else
                {
                    IsComplete = true;
                }
            }
        }
    }
}
