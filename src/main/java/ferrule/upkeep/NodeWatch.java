package ferrule.upkeep;

import ferrule.store.StoreTrouble;
import ferrule.store.Turns;
import ferrule.web.Operations;
import ferrule.web.Refusal;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Watches over one running node: asks the database every two seconds whether it answers, on a connection that no request
 * can hold. While it does not, requests are refused at once with a page that says so, and no thread waits for it; when it
 * answers again, they are taken again.
 */
public final class NodeWatch implements Operations, AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(NodeWatch.class);
  private static final Duration EVERY = Duration.ofSeconds(2);

  private static final String AWAY =
      "The database cannot be reached just now. If you were sending something, look in a minute whether it is there before"
          + " you send it again.";
  private static final String FULL =
      "The disk is full, so that nothing can be kept: what you sent was not kept. Tell whoever runs the server; try again"
          + " when there is room.";

  private final Supplier<Optional<StoreTrouble>> database;
  private final Consumer<Operations.Served> listener;
  private final ScheduledExecutorService clockwork =
      Executors.newSingleThreadScheduledExecutor(
          work -> {
            Thread thread = new Thread(work, "watch-database");
            thread.setDaemon(true);
            return thread;
          });
  private volatile Optional<StoreTrouble> trouble = Optional.empty();
  private volatile boolean stopping;

  /**
   * Begins to watch.
   *
   * @param database says what is wrong with the database, and waits for nothing longer than a moment
   * @param listener is told of every request that was answered
   */
  public NodeWatch(Supplier<Optional<StoreTrouble>> database, Consumer<Operations.Served> listener) {
    this.database = database;
    this.listener = listener;
    clockwork.scheduleWithFixedDelay(this::look, 0, EVERY.toMillis(), TimeUnit.MILLISECONDS);
  }

  private void look() {
    Optional<StoreTrouble> before = trouble;
    // a machine under load may be late once; only what is so twice in a row closes the node
    Optional<StoreTrouble> now = database.get().flatMap(first -> database.get());
    trouble = now;
    if (before.isEmpty() && now.isPresent()) {
      LOG.error("the database does not answer ({}); requests are refused until it does", now.get());
    } else if (before.isPresent() && now.isEmpty()) {
      LOG.warn("the database answers again; requests are taken");
    }
  }

  /** From now on this node says that it takes no requests, while it still answers those that come. */
  public void stopping() {
    stopping = true;
  }

  /** Whether the database answered when it was last asked. */
  public boolean reachesDatabase() {
    return trouble.isEmpty();
  }

  @Override
  public Optional<String> notReady() {
    if (stopping) {
      return Optional.of("this node is stopping");
    }
    return trouble.map(t -> t == StoreTrouble.FULL ? "the disk is full" : "the database does not answer");
  }

  @Override
  public Optional<Refusal> closed() {
    return trouble.map(NodeWatch::refusal);
  }

  @Override
  public Optional<Refusal> explain(Exception fault) {
    Optional<StoreTrouble> known = StoreTrouble.of(fault);
    known.ifPresent(t -> {
      LOG.warn("a request failed because the database is {}: {}", t, firstLine(fault));
      if (!clockwork.isShutdown()) {
        clockwork.execute(this::look); // at once: the next request need not find out by waiting
      }
    });
    return known.map(NodeWatch::refusal);
  }

  private static String firstLine(Exception fault) {
    return String.valueOf(fault.getMessage()).lines().findFirst().orElse("");
  }

  private static Refusal refusal(StoreTrouble trouble) {
    return Refusal.later(trouble == StoreTrouble.FULL ? FULL : AWAY);
  }

  @Override
  public void begins() {
    Turns.begin();
  }

  @Override
  public void served(Served request) {
    Turns.end();
    listener.accept(request);
  }

  @Override
  public void close() {
    // no interrupt: an embedded database closes its file when the thread that asks it is interrupted
    clockwork.shutdown();
  }
}
