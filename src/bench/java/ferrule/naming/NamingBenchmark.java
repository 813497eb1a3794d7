package ferrule.naming;

import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
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
 * Each run first prints how many of the answers each of them reads as meant and how many as another part.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 3, time = 2)
public class NamingBenchmark {

  private static final int ANSWERS = 4096;

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
    Answers made = Answers.of(chosen, ANSWERS);
    answers = made.answers();
    reader = TermReader.of(chosen);
    fuzzy = new FuzzySearch(made.terms());
    nearest = new NearestString(made.terms());
    System.out.printf(
        "%n%s: %d concepts, %d of them parts, %d terms%n",
        glossary, chosen.concepts().size(), chosen.nameable().size(), made.terms().size());
    int few = glossary.equals("trumpet") ? ANSWERS : ANSWERS / 16;
    report("reader of names", ANSWERS, this::partRead);
    report("fuzzy queries", ANSWERS / 4, fuzzy::part);
    report("nearest string", few, nearest::part);
  }

  private Optional<ConceptId> partRead(String typed) {
    Reading reading = reader.read(typed);
    return reading.parts().size() == 1 && reading.namesNoun()
        ? Optional.of(reading.parts().get(0).id())
        : Optional.empty();
  }

  private void report(String name, int count, Function<String, Optional<ConceptId>> search) {
    int meant = 0;
    int other = 0;
    for (Answers.Entry answer : answers.subList(0, count)) {
      Optional<ConceptId> found = search.apply(answer.phrase());
      meant += found.equals(Optional.of(answer.part())) ? 1 : 0;
      other += found.isPresent() && !found.get().equals(answer.part()) ? 1 : 0;
    }
    System.out.printf(
        Locale.ROOT, "%-16s %5d answers: %6.2f %% as meant, %6.2f %% another part%n",
        name, count, 100.0 * meant / count, 100.0 * other / count);
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
