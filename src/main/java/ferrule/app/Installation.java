package ferrule.app;

import ferrule.curriculum.Curriculum;
import ferrule.people.PeopleStore;
import ferrule.store.Database;
import ferrule.web.Pages;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.ZoneId;
import java.util.List;

/** Everything of one running Ferrule, put together: the curriculum, the stores over one database, and the pages. */
final class Installation implements AutoCloseable {

  private final Curriculum curriculum;
  private final Database database;
  private final PeopleStore people;

  /**
   * Puts a Ferrule together over an open database, which it closes in the end.
   *
   * @param clock the time for everything in it
   * @param zone the school's zone, for due dates
   */
  Installation(Curriculum curriculum, Database database, Clock clock, ZoneId zone) {
    this.curriculum = curriculum;
    this.database = database;
    this.people = new PeopleStore(database, clock);
  }

  PeopleStore people() {
    return people;
  }

  /** The edition of the curriculum that is in use. */
  String edition() {
    return curriculum.edition();
  }

  /** Starts the server over this installation. */
  WebServer serve(WebConfig config) {
    return WebServer.start(config, people, pages());
  }

  private List<Pages> pages() {
    return List.of();
  }

  @Override
  public void close() {
    database.close();
  }
}
