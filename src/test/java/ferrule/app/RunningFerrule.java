package ferrule.app;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.RealDatabases;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.List;

/** The whole of Ferrule with the demo programme, served on a free port of this machine from a fresh H2 database. */
final class RunningFerrule implements AutoCloseable {

  final Installation installation;
  private final WebServer server;

  RunningFerrule() {
    installation =
        new Installation(Books.read(Curriculum.bundled()), RealDatabases.h2(), HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
    DemoProgramme.fill(installation);
    server = installation.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS));
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
