package ferrule.drawing;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.TimeValue;

/**
 * How long a picture takes from the model to its SVG: turning, dividing, ordering by depth, painting, writing, with
 * nothing kept from before. {@link #main} runs every view and prints the median with the number of parts.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
public class PictureSpeed {

  @Param("players-left")
  public String view;

  private Glossary glossary;
  private Instrument instrument;
  private Studio studio;

  /** Reads the trumpet. */
  @Setup
  public void read() {
    Problems problems = new Problems();
    glossary = GlossaryReader.read(Curriculum.bundled(), "trumpet", problems).orElseThrow();
    instrument = InstrumentReader.read(Curriculum.bundled(), "trumpet", glossary, problems).orElseThrow();
    studio = Studio.of(instrument, glossary);
  }

  /** One picture from the model. */
  @Benchmark
  public int modelToSvg() {
    return draw().length();
  }

  private String draw() {
    PictureRequest request = PictureRequest.of(view);
    View chosen = instrument.view(view).orElseThrow();
    Scene scene = Scene.of(chosen, instrument, glossary, studio.variantsOf(chosen, Set.of()), Set.of());
    int[] numbers = new int[scene.parts().size()];
    Painting painting = Painting.of(scene, true);
    // visibility is measured once for a view and kept; here every part counts as plainly seen
    Visible plain = new Visible(1, 10_000, new Visible.Point(0, 0));
    Map<ConceptId, Visible> seen = new HashMap<>();
    scene.parts().forEach(part -> seen.put(part, plain));
    Labeller none = Labeller.ofWholes(glossary, scene.height(), List.of(), Map.of(), List.of());
    return new SvgDocument(scene, painting, request, Map.of(), numbers, none, seen).write();
  }

  /** The median time of the processor for a warm picture in ms: what other programs do does not count. */
  private double processorMs() {
    ThreadMXBean clock = ManagementFactory.getThreadMXBean();
    long[] times = new long[31];
    for (int i = 0; i < times.length; i++) {
      long start = clock.getCurrentThreadCpuTime();
      draw();
      times[i] = clock.getCurrentThreadCpuTime() - start;
    }
    Arrays.sort(times);
    return times[times.length / 2] / 1e6;
  }

  /** Prints a line for each view: parts, bytes, median and 90th percentile by the clock, median of the processor. */
  public static void main(String[] args) throws Exception {
    PictureSpeed all = new PictureSpeed();
    all.read();
    String[] views = all.studio.views().stream().map(View::id).toArray(String[]::new);
    Map<String, RunResult> results = new TreeMap<>();
    new Runner(new OptionsBuilder()
        .include(PictureSpeed.class.getSimpleName())
        .param("view", args.length > 0 ? args : views)
        .forks(0)
        .warmupIterations(1).warmupTime(TimeValue.milliseconds(400))
        .measurementIterations(1).measurementTime(TimeValue.milliseconds(400))
        .build())
        .run().forEach(r -> results.put(r.getParams().getParam("view"), r));
    System.out.println("view\tparts\tbytes\tmedian ms\t90 % ms\tprocessor ms");
    results.forEach((view, result) -> {
      all.view = view;
      Picture picture = all.studio.picture(PictureRequest.of(view));
      var samples = result.getPrimaryResult().getStatistics();
      System.out.printf("%s\t%d\t%d\t%.1f\t%.1f\t%.1f%n", view, picture.shapes().size(), all.draw().length(),
          samples.getPercentile(50), samples.getPercentile(90), all.processorMs());
    });
  }
}
