package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Desk;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;

/**
 * Overviews for pages. Of the present what is kept is counted, and few are judged anew. A past day of a large school is
 * judged from the records in the background, one day at a time, and kept here for {@link #KEPT}: what is past changes only
 * if something is recorded with an earlier time, and the page says when it was counted.
 */
final class Overviews {

  private static final Duration KEPT = Duration.ofMinutes(10);
  private static final int DAYS = 4;

  private record Past(Instant asked, CompletableFuture<Overview> overview) {}

  private final Desk desk;
  private final Map<LocalDate, Past> past = new LinkedHashMap<>();
  private final Executor oneAtATime;

  Overviews(Desk desk) {
    this.desk = desk;
    ThreadPoolExecutor executor = new ThreadPoolExecutor(1, 1, 30, TimeUnit.SECONDS, new LinkedBlockingQueue<>(), work -> {
      Thread thread = new Thread(work, "count-a-past-day");
      thread.setDaemon(true);
      thread.setPriority(Thread.MIN_PRIORITY);
      return thread;
    });
    executor.allowCoreThreadTimeOut(true);
    this.oneAtATime = executor;
  }

  /** The overview of a moment; one in which somebody is waiting if it is being counted. */
  Overview of(AsOf asOf) {
    if (asOf.past()) {
      Overview counted = counted(asOf.day());
      if (counted != null) {
        return counted;
      }
    }
    Overview overview = Overview.of(desk, asOf);
    if (overview.waiting() > 0 && asOf.past()) {
      begin(asOf);
    }
    return overview;
  }

  private synchronized Overview counted(LocalDate day) {
    Instant since = desk.clock().instant().minus(KEPT);
    past.values().removeIf(p -> p.overview().isDone()
        && (p.overview().isCompletedExceptionally() || p.asked().isBefore(since)));
    Past there = past.get(day);
    return there == null ? null : there.overview().getNow(null);
  }

  private synchronized void begin(AsOf asOf) {
    if (past.containsKey(asOf.day())) {
      return;
    }
    Iterator<Past> oldest = past.values().iterator();
    while (past.size() >= DAYS && oldest.hasNext()) {
      if (oldest.next().overview().isDone()) {
        oldest.remove();
      }
    }
    // so many days at once are waited for already: whoever asks will ask again
    if (past.size() < DAYS) {
      past.put(
          asOf.day(),
          new Past(
              desk.clock().instant(),
              CompletableFuture.supplyAsync(() -> Overview.whole(desk, asOf), oneAtATime)));
    }
  }
}
