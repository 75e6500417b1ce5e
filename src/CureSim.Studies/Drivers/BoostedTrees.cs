using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers.FastTree;

namespace CureSim.Studies.Drivers;

/// <summary>Gradient-boosted regression trees: the only place that uses Microsoft.ML, loaded when the first model is trained.</summary>
/// <remarks>One training thread and a fixed seed, so the same rows give the same trees. Features and answers are single precision, as the library takes them.</remarks>
internal sealed class BoostedTrees : IDisposable
{
    private const int Trees = 300;
    private const int Leaves = 8;
    private const double LearningRate = 0.06;
    private readonly PredictionEngine<Row, Answer> engine;
    private readonly Row row = new();
    private readonly Answer answer = new();

    private BoostedTrees(PredictionEngine<Row, Answer> engine) => this.engine = engine;

    private sealed class Row
    {
        public float[] Features { get; set; } = [];

        public float Label { get; set; }
    }

    private sealed class Answer
    {
        public float Score { get; set; }
    }

    /// <summary>Trains on rows of features.</summary>
    public static BoostedTrees Train(IReadOnlyList<float[]> features, IReadOnlyList<float> labels)
    {
        var context = new MLContext(seed: 1);
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, features[0].Length);
        var data = context.Data.LoadFromEnumerable(features.Select((f, i) => new Row { Features = f, Label = labels[i] }), schema);
        var trainer = context.Regression.Trainers.FastTree(new FastTreeRegressionTrainer.Options
        {
            NumberOfThreads = 1,
            Seed = 1,
            FeatureSelectionSeed = 1,
            NumberOfTrees = Trees,
            NumberOfLeaves = Leaves,
            LearningRate = LearningRate,
            MinimumExampleCountPerLeaf = Math.Max(4, features.Count / 100),
        });
        var model = trainer.Fit(data);
        return new(context.Model.CreatePredictionEngine<Row, Answer>(model, inputSchemaDefinition: schema));
    }

    /// <summary>The answer for a row of features.</summary>
    public double Predict(float[] features)
    {
        row.Features = features;
        var found = answer;
        engine.Predict(row, ref found);
        return found.Score;
    }

    public void Dispose() => engine.Dispose();
}
