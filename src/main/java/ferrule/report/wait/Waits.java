package ferrule.report.wait;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;

/**
 * How long work waits from the apprentice's word that it is ready until its grade is signed. Hours are those of the clock,
 * nights and holidays among them. What is not graded yet, was taken out of the queue, or whose apprentice left, counts for
 * as long as it waited.
 *
 * @param estimate of the wait, in hours
 * @param waiting how many still wait
 * @param graders for each grader of any of it, who graded most first
 */
public record Waits(ProductLimit estimate, int waiting, List<Turnaround> graders) {

  /** Below so many nothing is concluded: our own convention, no source. */
  public static final int ENOUGH = 10;

  /**
   * One piece of work.
   *
   * @param asked when it was said to be ready
   * @param taken when its grading began, if it did
   * @param grader who graded it, if somebody did
   * @param graded when the grade was signed, if it was
   * @param givenUp when it stopped waiting without a grade, if it did
   */
  public record Work(
      Instant asked, Optional<Instant> taken, Optional<UUID> grader, Optional<Instant> graded, Optional<Instant> givenUp) {}

  /**
   * How soon one grader grades, over what they graded.
   *
   * @param grader who
   * @param fromReady hours from "ready" to the signature: how long the queue was, more than the grader's doing
   * @param fromTaking hours from opening the work to the signature
   */
  public record Turnaround(UUID grader, Quartiles fromReady, Quartiles fromTaking) {

    /** Whether there is enough work to say anything. */
    public boolean isEnough() {
      return fromReady.n() >= ENOUGH;
    }
  }

  /** Copies the list. */
  public Waits {
    graders = List.copyOf(graders);
  }

  /** Whether there is enough that ended to say anything. */
  public boolean isEnough() {
    return estimate.ended() >= ENOUGH;
  }

  /** The waits of these works as they stood at an instant. */
  public static Waits of(List<Work> works, Instant at) {
    List<ProductLimit.Watched> watched = new ArrayList<>();
    Map<UUID, List<Work>> byGrader = new TreeMap<>();
    int waiting = 0;
    for (Work work : works) {
      Instant end = work.graded().or(work::givenUp).orElse(at);
      watched.add(new ProductLimit.Watched(Math.max(0, hours(work.asked(), end)), work.graded().isPresent()));
      waiting += work.graded().isEmpty() && work.givenUp().isEmpty() ? 1 : 0;
      if (work.graded().isPresent()) {
        work.grader().ifPresent(g -> byGrader.computeIfAbsent(g, k -> new ArrayList<>()).add(work));
      }
    }
    List<Turnaround> graders = byGrader.entrySet().stream()
        .map(e -> turnaround(e.getKey(), e.getValue()))
        .sorted((a, b) -> b.fromReady().n() - a.fromReady().n())
        .toList();
    return new Waits(ProductLimit.of(watched), waiting, graders);
  }

  private static Turnaround turnaround(UUID grader, List<Work> graded) {
    double[] ready = graded.stream().mapToDouble(w -> hours(w.asked(), w.graded().orElseThrow())).toArray();
    double[] taking = graded.stream()
        .mapToDouble(w -> hours(w.taken().orElse(w.asked()), w.graded().orElseThrow())).toArray();
    return new Turnaround(grader, Quartiles.of(ready).orElseThrow(), Quartiles.of(taking).orElseThrow());
  }

  private static double hours(Instant from, Instant to) {
    return Duration.between(from, to).toMillis() / 3_600_000.0;
  }
}
