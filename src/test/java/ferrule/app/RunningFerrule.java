package ferrule.app;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.List;

/** The whole of Ferrule with the demo programme, served on a free port of this machine from a fresh H2 database. */
final class RunningFerrule implements AutoCloseable {

  private static Path filled;

  final Installation installation;
  private final WebServer server;

  RunningFerrule() {
    installation = on(RealDatabases.h2(filled()));
    server = installation.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS));
  }

  private static Installation on(Database database) {
    return new Installation(Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
  }

  /** A script that makes a database with the demo programme, which takes less time than to fill in the programme again. */
  private static synchronized Path filled() {
    if (filled == null) {
      try (Installation demo = on(RealDatabases.h2())) {
        DemoProgramme.fill(demo);
        filled = Files.createTempFile("demo", ".sql");
        filled.toFile().deleteOnExit();
        demo.database().dsl().execute("script to '" + filled + "'");
      } catch (IOException e) {
        throw new UncheckedIOException("the demo programme cannot be kept for other tests", e);
      }
    }
    return filled;
  }

  /** The port that it listens on. */
  int port() {
    return server.port();
  }

  /** Its routes. */
  List<WebServer.Route> routes() {
    return server.routes();
  }

  /** The address of a page. */
  String at(String path) {
    return "http://127.0.0.1:" + server.port() + path;
  }

  @Override
  public void close() {
    server.close();
    installation.close();
  }
}
