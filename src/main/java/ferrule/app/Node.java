package ferrule.app;

import ferrule.store.DatabaseProbe;
import ferrule.upkeep.Errand;
import ferrule.upkeep.Figures;
import ferrule.upkeep.FiguresPort;
import ferrule.upkeep.NodeWatch;
import ferrule.upkeep.RequestLog;
import ferrule.upkeep.TurnStore;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Locale;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** One running node: the server over its sites, what watches over it, and what it does by the clock. */
final class Node implements AutoCloseable {

  /** Where the records of a node are: the options that say so, and the name of an embedded database. */
  record Place(DatabaseOptions options, String name) {}

  private static final Logger LOG = LoggerFactory.getLogger(Node.class);

  private final Deque<AutoCloseable> parts = new ArrayDeque<>();
  private final Crew crew = new Crew();
  private final NodeWatch watch;
  private final WebServer server;
  private final Optional<FiguresPort> figuresPort;

  /**
   * Starts it.
   *
   * @param zone the school's
   * @param place where its records are
   * @throws UncheckedIOException if a port cannot be opened; the message says which
   */
  Node(Campus campus, Place place, WebConfig config, NodeOptions options, BackupOptions backups, ZoneId zone) {
    try {
      DatabaseProbe probe = begin(place.options().probe(place.name()));
      Figures figures = begin(new Figures(place.options().data()));
      RequestLog log = new RequestLog(options.logRequests);
      watch = begin(new NodeWatch(probe::trouble, served -> {
        figures.count(served);
        log.tell(served);
      }));
      measure(campus, figures);
      figuresPort = options.metricsPort == 0 ? Optional.empty() : Optional.of(begin(port(options, figures)));
      // closed after the server, so that what its last requests leave is written
      Trailing trailing = begin(new Trailing(campus::trails, options.auditDays));
      // waited for after the server: they stop while requests in flight finish
      begin(crew);
      server = begin(start(campus, config));
      crew.begin("audit-trail", Trailing.EVERY, Thread.NORM_PRIORITY, trailing);
      crew.begin("sign-heads", HeadKeeping.EVERY, Thread.NORM_PRIORITY, new HeadKeeping(campus::heads));
      crew.begin("keep-progress", new Rounds(campus::progressRounds));
      crew.begin("keep-known", new Rounds(campus::knownRounds));
      keepBackups(campus, place, backups, zone, figures);
      crew.begin("long-work", new LongWorking(campus::longWorkers));
    } catch (RuntimeException e) {
      close();
      throw e;
    }
  }

  private <T extends AutoCloseable> T begin(T part) {
    parts.push(part);
    return part;
  }

  private void keepBackups(Campus campus, Place place, BackupOptions options, ZoneId zone, Figures figures) {
    Backups backups =
        new Backups(place.options().address(place.name()), Optional.of(place.options().headKeyFile()));
    TurnStore turns = new TurnStore(campus.first().database());
    options.at().ifPresent(at -> {
      Path folder = options.folder(place.options().data());
      crew.begin(
          "backups", BackupKeeping.EVERY, Thread.NORM_PRIORITY,
          new BackupKeeping(backups, turns, folder, options.keep(), at, Clock.systemUTC(), zone));
      figures.ask(
          "ferrule.backup.age.seconds", "Time since the last backup that the clock asked for",
          () -> turns.lastMade().map(made -> (double) Duration.between(made, Instant.now()).toSeconds())
              .orElse(Double.NaN));
    });
    if (place.options().isEmbedded()) {
      try {
        begin(new Errand(place.options().file(place.name()), line -> BackupCommand.serve(backups, line)));
      } catch (IOException | UnsupportedOperationException e) {
        LOG.warn("the command backup cannot reach this server: {}", e.getMessage());
      }
    }
  }

  private FiguresPort port(NodeOptions options, Figures figures) {
    try {
      return new FiguresPort(options.metricsHost, options.metricsPort, figures::text, watch::notReady);
    } catch (IOException e) {
      throw new UncheckedIOException(
          "port " + options.metricsPort + " for the figures (--metrics-port) cannot be opened: " + e.getMessage(), e);
    }
  }

  private WebServer start(Campus campus, WebConfig config) {
    try {
      return campus.serve(config, watch);
    } catch (RuntimeException e) {
      if (isAboutPort(e)) {
        throw new UncheckedIOException(new IOException(
            "port " + config.port() + " on " + config.host() + " cannot be opened; is another program using it? "
                + "Another is chosen with --port", e));
      }
      throw e;
    }
  }

  private static boolean isAboutPort(Throwable fault) {
    for (Throwable cause = fault; cause != null; cause = cause.getCause()) {
      if (cause instanceof IOException) {
        return true;
      }
    }
    return String.valueOf(fault.getMessage()).toLowerCase(Locale.ROOT).contains("port");
  }

  private void measure(Campus campus, Figures figures) {
    Installation first = campus.first();
    first.database().measuredBy(figures.registry());
    figures.ask("ferrule.database.up", "1 if the database answered when last asked", () -> watch.reachesDatabase() ? 1d : 0d);
    figures.ask("ferrule.log.records", "Records in the first site's log", () -> (double) first.ledger().head().size());
    figures.ask(
        "ferrule.clock.behind.seconds", "How far this machine's clock is behind the last record of the first site's log",
        () -> behind(first));
  }

  private static double behind(Installation installation) {
    Duration behind = installation.ledger().lastAt()
        .map(last -> Duration.between(Instant.now(), last))
        .filter(ahead -> !ahead.isNegative())
        .orElse(Duration.ZERO);
    return behind.toMillis() / 1000d;
  }

  WebServer server() {
    return server;
  }

  /** The port of the figures, if there is one. */
  Optional<Integer> figuresPort() {
    return figuresPort.map(FiguresPort::port);
  }

  /** Says that it takes no more requests, and goes on answering for so long. */
  void announceStop(Duration goOn) throws InterruptedException {
    watch.stopping();
    Thread.sleep(goOn.toMillis());
  }

  /** Stops taking requests, lets those in flight finish, and ends the rest. */
  @Override
  public void close() {
    crew.tell();
    while (!parts.isEmpty()) {
      try {
        parts.pop().close();
      } catch (Exception e) {
        LOG.warn("a part of the node did not close", e);
      }
    }
  }
}
