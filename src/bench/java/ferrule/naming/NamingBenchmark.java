package ferrule.naming;

import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Answers read in a second, each with one misspelled word: by the reader of names, by fuzzy queries, by the nearest string.
 * Each run first prints how many of the answers each of them reads as meant and how many as another part, and how many it
 * reads in a second of its thread's processor time, which a busy machine does not distort.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 2, time = 1)
@Measurement(iterations = 3, time = 1)
public class NamingBenchmark {

  private static final int ANSWERS = 2048;
  private static final int NANOS = 1_000_000_000;
  private static final int SECONDS_OF_WARMING = 3;

  /** The trumpet's glossary, or the larger one made from it. */
  @Param({"trumpet", "larger"})
  String glossary;

  private List<Answers.Entry> answers;
  private TermReader reader;
  private FuzzySearch fuzzy;
  private NearestString nearest;
  private int next;

  /** Makes the three searches over the same terms. */
  @Setup
  public void prepare() {
    Glossary trumpet = Trumpet.GLOSSARY;
    Glossary chosen = glossary.equals("trumpet") ? trumpet : LargerGlossary.of(trumpet);
    Answers exact = Answers.of(chosen, ANSWERS, false);
    List<Answers.Entry> typed = Answers.of(chosen, ANSWERS, true).answers();
    answers = typed;
    reader = TermReader.of(chosen);
    fuzzy = new FuzzySearch(exact.terms());
    nearest = new NearestString(exact.terms());
    System.out.printf(
        "%n%s: %d concepts, %d of them parts, %d terms%n",
        glossary, chosen.concepts().size(), chosen.nameable().size(), exact.terms().size());
    int few = glossary.equals("trumpet") ? ANSWERS : ANSWERS / 16;
    report("terms", exact.answers(), "reader of names", ANSWERS, this::partRead);
    report("terms", exact.answers(), "fuzzy queries", few, fuzzy::part);
    report("terms", exact.answers(), "nearest string", few, nearest::part);
    report("as typed", typed, "reader of names", ANSWERS, this::partRead);
    report("as typed", typed, "fuzzy queries", few, fuzzy::part);
    report("as typed", typed, "nearest string", few, nearest::part);
  }

  private Optional<ConceptId> partRead(String typed) {
    Reading reading = reader.read(typed);
    return reading.parts().size() == 1 && reading.namesNoun()
        ? Optional.of(reading.parts().get(0).id())
        : Optional.empty();
  }

  private static void report(
      String set, List<Answers.Entry> from, String name, int count, Function<String, Optional<ConceptId>> search) {
    List<Answers.Entry> answers = from.subList(0, count);
    int meant = 0;
    int other = 0;
    for (Answers.Entry answer : answers) {
      Optional<ConceptId> found = search.apply(answer.phrase());
      meant += found.equals(Optional.of(answer.part())) ? 1 : 0;
      other += found.isPresent() && !found.get().equals(answer.part()) ? 1 : 0;
    }
    answersPerSecond(answers, search, SECONDS_OF_WARMING);
    System.out.printf(
        Locale.ROOT, "%-8s %-16s %5d answers: %6.2f %% as meant, %6.2f %% another part, %8.0f a second of processor time%n",
        set, name, count, 100.0 * meant / count, 100.0 * other / count, answersPerSecond(answers, search, 1));
  }

  private static double answersPerSecond(
      List<Answers.Entry> answers, Function<String, Optional<ConceptId>> search, int seconds) {
    ThreadMXBean clock = ManagementFactory.getThreadMXBean();
    long start = clock.getCurrentThreadCpuTime();
    long spent = 0;
    long read = 0;
    while (spent < (long) seconds * NANOS) {
      for (int i = 0; i < 64; i++) {
        search.apply(answers.get((int) (read++ % answers.size())).phrase());
      }
      spent = clock.getCurrentThreadCpuTime() - start;
    }
    return read * (double) NANOS / spent;
  }

  private String nextAnswer() {
    next = next + 1 == answers.size() ? 0 : next + 1;
    return answers.get(next).phrase();
  }

  /** Ours. */
  @Benchmark
  public Reading readerOfNames() {
    return reader.read(nextAnswer());
  }

  /** A search engine's. */
  @Benchmark
  public Optional<ConceptId> fuzzyQueries() {
    return fuzzy.part(nextAnswer());
  }

  /** The plain way. */
  @Benchmark
  public Optional<ConceptId> nearestString() {
    return nearest.part(nextAnswer());
  }
}
