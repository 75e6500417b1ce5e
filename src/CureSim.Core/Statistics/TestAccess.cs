using System.Runtime.CompilerServices;

// The laws and the quadrature under this folder are internal: they serve the statistics and are checked by themselves in the tests.
[assembly: InternalsVisibleTo("CureSim.Tests")]
[assembly: InternalsVisibleTo("CureSim.Checks")]
