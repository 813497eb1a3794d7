package ferrule.drill;

import ferrule.drawing.Studio;
import ferrule.glossary.Glossary;
import ferrule.naming.TermReader;
import ferrule.people.PeopleStore;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Pages;
import io.javalin.config.RoutesConfig;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.ZoneId;
import java.util.List;

/** The pages of drills: the instructor's class, the apprentice's practice, taking a drill, and rulings. */
public final class DrillPages implements Pages {

  private final ClassPages classPages;
  private final PractisePages practisePages;
  private final SittingPages sittingPages;

  /**
   * The pages over these stores.
   *
   * @param edition the edition of the curriculum that glossary and drawing come from
   * @param zone the school's zone, for due dates
   */
  public DrillPages(
      PeopleStore people,
      DrillStore store,
      Glossary glossary,
      TermReader reader,
      Studio studio,
      String edition,
      Clock clock,
      ZoneId zone) {
    PartNames names = new PartNames(glossary);
    Calendar calendar = new Calendar(clock, zone);
    Pictures pictures = new Pictures(studio, glossary);
    Marker marker = new Marker(glossary, reader);
    Drills drills = new Drills(store, pictures, marker, edition, clock, new SecureRandom()::nextLong);
    SittingView sittingView = new SittingView(store, names, calendar);
    this.classPages = new ClassPages(people, store, pictures, names, calendar, sittingView);
    this.practisePages = new PractisePages(people, store, drills, pictures, names, calendar);
    this.sittingPages = new SittingPages(drills, store, pictures, names, calendar, sittingView);
  }

  @Override
  public void routes(RoutesConfig routes) {
    classPages.routes(routes);
    practisePages.routes(routes);
    sittingPages.routes(routes);
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(
        NavEntry.of("Class", "/class", 10, Access.INSTRUCTOR),
        NavEntry.of("Practise", "/practise", 10, Access.APPRENTICE));
  }
}
