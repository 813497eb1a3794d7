package ferrule.drawing;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
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
 * How long a picture takes from the model to its SVG: turning, dividing, ordering by depth, judging what is seen,
 * painting, writing, with nothing kept from before. {@link #main} runs every view and prints the median with the number of parts.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
public class PictureSpeed {

  private static final int WARM_ROUNDS = 20;

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

  /** A studio that has drawn nothing yet, so that nothing is kept: what is seen is judged anew, too. */
  private String draw() {
    return Studio.of(instrument, glossary).picture(PictureRequest.of(view)).svg();
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

  // without it the view that comes first would be measured while the others' code is still being compiled
  private void warmUp(String[] views) {
    for (int round = 0; round < WARM_ROUNDS; round++) {
      for (String each : views) {
        view = each;
        draw();
      }
    }
  }

  /** Prints a line for each view: parts, bytes, median and 90th percentile by the clock, median of the processor. */
  public static void main(String[] args) throws Exception {
    PictureSpeed all = new PictureSpeed();
    all.read();
    String[] views = all.studio.views().stream().map(View::id).toArray(String[]::new);
    all.warmUp(views);
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
    double[] slowest = new double[2];
    results.forEach((view, result) -> {
      all.view = view;
      Picture picture = all.studio.picture(PictureRequest.of(view));
      var samples = result.getPrimaryResult().getStatistics();
      double processor = all.processorMs();
      slowest[0] = Math.max(slowest[0], samples.getPercentile(50));
      slowest[1] = Math.max(slowest[1], processor);
      System.out.printf("%s\t%d\t%d\t%.1f\t%.1f\t%.1f%n", view, picture.shapes().size(), picture.svg().length(),
          samples.getPercentile(50), samples.getPercentile(90), processor);
    });
    System.out.printf("slowest view: median %.1f ms by the clock, %.1f ms of the processor%n", slowest[0], slowest[1]);
  }
}
