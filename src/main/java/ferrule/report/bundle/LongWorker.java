package ferrule.report.bundle;

import ferrule.competency.AsOf;
import ferrule.competency.Desk;
import ferrule.people.Cohort;
import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Does the long work of a site at one node, one piece at a time. It rests twice as long as it worked, again and again, so
 * that of the machine it takes a third of a core at most and a page that somebody waits for is served meanwhile.
 */
public final class LongWorker {

  /** How whoever works hears that it is to stop; nobody interrupts it. */
  @FunctionalInterface
  public interface Told {
    /** Waits so long, or until it is told to stop; returns whether it is. */
    boolean within(Duration rest);
  }

  private static final Logger LOG = LoggerFactory.getLogger(LongWorker.class);
  private static final Duration TELL_EVERY = Duration.ofSeconds(1);
  private static final int RESTS = 2;
  private static final Duration LONGEST_REST = Duration.ofSeconds(5);

  private final LongWorkStore store;
  private final BundleMaker maker;
  private final Desk desk;
  private final UUID node = UUID.randomUUID();

  /** A worker over this store. */
  public LongWorker(LongWorkStore store, BundleMaker maker, Desk desk) {
    this.store = store;
    this.maker = maker;
    this.desk = desk;
  }

  /**
   * Does the work that waits longest, if any does and a slot is free. If it is told to stop the work is put back.
   *
   * @return whether there was any
   */
  public boolean round(Told told) {
    if (told.within(Duration.ZERO)) {
      return false;
    }
    store.tidy();
    Optional<LongWork> work = store.take(node);
    work.ifPresent(taken -> work(taken, told));
    return work.isPresent();
  }

  private void work(LongWork work, Told told) {
    try (LongWorkStore.Pieces pieces = store.pieces(work.id())) {
      AsOf asOf = desk.asOf(Optional.of(work.asOf().toString()));
      Optional<Cohort> cohort = work.cohort().flatMap(desk.people()::cohort);
      if (work.cohort().isPresent() && cohort.isEmpty()) {
        throw new IOException("the cohort is gone");
      }
      maker.write(cohort, asOf, pieces, new Paced(work.id(), told));
      pieces.close();
      store.finish(work.id(), node, BundleMaker.fileName(cohort, asOf), pieces.size());
    } catch (Headway.Stopped e) {
      store.stop(work.id(), node);
    } catch (IOException | RuntimeException e) {
      LOG.error("the bundle {} could not be made", work.id(), e);
      store.fail(work.id(), node, "It could not be made: " + e.getMessage());
    }
  }

  /** Tells the store how far it is, and rests. */
  private final class Paced implements Headway {

    private final UUID id;
    private final Told told;
    private String step = "";
    private long done;
    private long total;
    private long toldAt;
    private long workingSince = System.nanoTime();

    Paced(UUID id, Told told) {
      this.id = id;
      this.told = told;
    }

    @Override
    public void begin(String next, long all) {
      step = next;
      done = 0;
      total = all;
      tell();
      rest();
    }

    @Override
    public void advance(long by) {
      done += by;
      if (System.nanoTime() - toldAt >= TELL_EVERY.toNanos()) {
        tell();
      }
      rest();
    }

    private void tell() {
      toldAt = System.nanoTime();
      if (!store.tell(id, node, step, done, total)) {
        throw new Stopped("it was cancelled, or another node has taken it up");
      }
    }

    private void rest() {
      long worked = System.nanoTime() - workingSince;
      if (told.within(Duration.ofMillis(Math.min(LONGEST_REST.toMillis(), RESTS * worked / 1_000_000)))) {
        throw new Stopped("this node stops");
      }
      workingSince = System.nanoTime();
    }
  }
}
