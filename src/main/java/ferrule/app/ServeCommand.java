package ferrule.app;

import ferrule.people.PeopleStore;
import ferrule.site.Site;
import ferrule.store.CannotOpen;
import ferrule.store.Database;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Runs the web server until it is stopped. */
@Command(
    name = "serve",
    mixinStandardHelpOptions = true,
    description = "Runs Ferrule. Without an account yet, it prints a link that makes the first coordinator's.")
final class ServeCommand implements Callable<Integer> {

  /** How long the link for the first coordinator of a site works. */
  static final Duration FIRST_LINK = Duration.ofHours(24);

  private static final Duration STOP_WITHIN = Duration.ofSeconds(20);

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;
  @Mixin private CurriculumOption curriculumOption;
  @Mixin private NodeOptions nodeOptions;
  @Mixin private BackupOptions backupOptions;
  @Mixin private SchoolOptions schoolOptions;

  @Option(names = "--demo", description = "Serve the invented demo programme, kept apart from real records.")
  private boolean demo;

  @Option(
      names = "--host",
      defaultValue = "${env:FERRULE_HOST:-127.0.0.1}",
      description = "Address to listen on; 0.0.0.0 lets other machines in (FERRULE_HOST; default: ${DEFAULT-VALUE}).")
  private String host;

  @Option(
      names = "--port",
      defaultValue = "${env:FERRULE_PORT:-8710}",
      description = "Port to listen on, 0 for any free one (FERRULE_PORT; default: ${DEFAULT-VALUE}).")
  private int port;

  @Option(
      names = "--zone",
      defaultValue = "${env:FERRULE_ZONE:-UTC}",
      description = "The school's time zone, for due dates, such as Europe/Rome (FERRULE_ZONE; default: ${DEFAULT-VALUE}).")
  private String zone;

  @Option(
      names = "--behind-tls",
      defaultValue = "${env:FERRULE_BEHIND_TLS:-false}",
      description = "Browsers come by https (a proxy in front): cookies are then sent by https only "
          + "(FERRULE_BEHIND_TLS).")
  private boolean behindTls;

  @Override
  public Integer call() throws InterruptedException {
    ZoneId schoolZone = parseZone();
    WebConfig config = parseConfig();
    nodeOptions.logFormat.use();
    CountDownLatch stop = new CountDownLatch(1);
    CountDownLatch stopped = new CountDownLatch(1);
    // the machine waits for its hooks, so the hook waits until requests in flight and the database are done
    Runtime.getRuntime().addShutdownHook(new Thread(() -> stopAndWait(stop, stopped), "stop"));
    try (Campus campus = open(schoolZone);
        Node node = new Node(
            campus, new Node.Place(databaseOptions, name()), config, nodeOptions, backupOptions, schoolZone)) {
      greet(campus.first().people(), node);
      stop.await();
      node.announceStop(Duration.ofSeconds(nodeOptions.stopAfterSeconds));
    } catch (CannotOpen | UncheckedIOException | IllegalArgumentException e) {
      spec.commandLine().getErr().println(sentence(e));
      return CommandLine.ExitCode.USAGE;
    } catch (FaultyCurriculum e) {
      spec.commandLine().getErr().println(e.getMessage());
      return CommandLine.ExitCode.SOFTWARE;
    } finally {
      stopped.countDown();
    }
    return CommandLine.ExitCode.OK;
  }

  private static String sentence(RuntimeException e) {
    boolean bare = e instanceof UncheckedIOException && e.getMessage().startsWith("java.");
    return bare ? e.getCause().getMessage() : e.getMessage();
  }

  private String name() {
    return demo ? "demo" : "ferrule";
  }

  private void stopAndWait(CountDownLatch stop, CountDownLatch stopped) {
    stop.countDown();
    try {
      stopped.await(STOP_WITHIN.toMillis() + nodeOptions.stopAfterSeconds * 1000L, TimeUnit.MILLISECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private Campus open(ZoneId schoolZone) {
    // the two have nothing in common and each takes a good part of the start
    CompletableFuture<Books> books = CompletableFuture.supplyAsync(() -> Books.read(curriculumOption.open()));
    Database database = demo ? demoDatabase(books, schoolZone) : databaseOptions.open(name());
    try {
      return new Campus(read(books), database, databaseOptions::signer, Clock.systemUTC(), schoolZone);
    } catch (RuntimeException e) {
      database.close();
      throw e;
    }
  }

  private Database demoDatabase(CompletableFuture<Books> books, ZoneId schoolZone) {
    return databaseOptions.openFilled(
        name(),
        database -> new PeopleStore(database, Clock.systemUTC()).isEmpty(),
        database -> DemoProgramme.fill(new Installation(
            read(books), database, databaseOptions.signer(new Site(Site.FIRST, "")), Clock.systemUTC(), schoolZone)));
  }

  private static Books read(CompletableFuture<Books> books) {
    try {
      return books.join();
    } catch (CompletionException e) {
      throw e.getCause() instanceof RuntimeException cause ? cause : e;
    }
  }

  private void greet(PeopleStore people, Node node) {
    PrintWriter out = spec.commandLine().getOut();
    String address = "http://" + (host.equals("0.0.0.0") ? "localhost" : host) + ":" + node.server().port();
    out.println("Ferrule is open at " + address + "/");
    node.figuresPort().ifPresent(port -> out.println("Figures at http://" + nodeOptions.metricsHost + ":" + port + "/metrics"));
    if (people.isEmpty()) {
      out.println("Nobody has an account yet. This link makes the first coordinator's; it works once, for "
          + FIRST_LINK.toHours() + " hours:");
      out.println(address + WebServer.firstCoordinatorPath(new Site(Site.FIRST, ""), people, FIRST_LINK));
    }
    out.flush();
  }

  private ZoneId parseZone() {
    try {
      return ZoneId.of(zone);
    } catch (DateTimeException e) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--zone is a time zone such as Europe/Rome; given: " + zone);
    }
  }

  private WebConfig parseConfig() {
    try {
      return new WebConfig(host, port, behindTls, demo ? DemoProgramme.ACCOUNTS : List.of(), schoolOptions.provider());
    } catch (IllegalArgumentException e) {
      throw new CommandLine.ParameterException(spec.commandLine(), e.getMessage());
    }
  }
}
