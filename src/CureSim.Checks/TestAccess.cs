using System.Runtime.CompilerServices;

// The sampled checks are run with other seeds by the tests, which see how often a figure lies outside.
[assembly: InternalsVisibleTo("CureSim.StatisticalTests")]
[assembly: InternalsVisibleTo("CureSim.Tests")]
[assembly: InternalsVisibleTo("SelfCheckDriver")]
