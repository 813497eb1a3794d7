package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.device.Receiver;
import ferrule.drawing.Studio;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.people.PeopleStore;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Pages;
import io.javalin.config.RoutesConfig;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.ZoneId;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;

/** The pages of drills: the instructor's class, the apprentice's practice, taking a drill, and rulings. */
public final class DrillPages implements Pages {

  private final SettingPages settingPages;
  private final ClassPages classPages;
  private final PractisePages practisePages;
  private final SittingPages sittingPages;
  private final AnswerReceiver answers;
  private final RulingPages rulingPages;
  private final Pictures pictures;
  private final Supplier<Marker> marker;
  private final Drills drills;

  /**
   * The pages over these stores.
   *
   * @param curriculum where glossary and drawing come from
   * @param work what can be asked about bench work
   * @param zone the school's zone, for due dates
   */
  public DrillPages(
      PeopleStore people,
      DrillStore store,
      RulingStore rulingStore,
      Curriculum curriculum,
      Glossary glossary,
      Studio studio,
      Work work,
      Clock clock,
      ZoneId zone) {
    PartNames names = new PartNames(glossary);
    Calendar calendar = new Calendar(clock, zone);
    this.pictures = new Pictures(studio, glossary);
    CompletableFuture<ItemBank> bank = CompletableFuture.supplyAsync(() -> pictures.bank(work));
    RulingBook rulings = new RulingBook(glossary, curriculum, rulingStore, pictures, clock);
    this.marker = rulings::marker;
    this.drills =
        new Drills(store, pictures, bank::join, rulings::marker, curriculum.edition(), clock, new SecureRandom()::nextLong);
    Turns turns = new Turns(store, calendar);
    SittingView sittingView = new SittingView(store, names, calendar);
    this.settingPages = new SettingPages(people, store.assignments(), store.known(), pictures, bank::join, names, calendar);
    this.classPages = new ClassPages(people, store, rulings, pictures, names, calendar, sittingView, turns);
    this.practisePages = new PractisePages(people, store, rulingStore, drills, pictures, names, calendar, turns);
    this.sittingPages = new SittingPages(drills, store, pictures, names, calendar, sittingView, turns);
    this.answers = new AnswerReceiver(drills, store, pictures, turns);
    this.rulingPages = new RulingPages(people, rulingStore, rulings, pictures, names, calendar);
  }

  /** The parts that a drill can ask for; waits for the survey of the drawings, which runs from the start. */
  public Set<ConceptId> askable() {
    return pictures.pool().parts();
  }

  /** Takes in answers that were given without a network. */
  public Receiver answers() {
    return answers;
  }

  /** The drawings of drills. */
  public Pictures pictures() {
    return pictures;
  }

  /** Starts and answers drills by the rulings of the moment. */
  public Drills drills() {
    return drills;
  }

  /** Judges answers by the names and rulings of the moment at which it is asked for. */
  public Supplier<Marker> marker() {
    return marker;
  }

  @Override
  public void routes(RoutesConfig routes) {
    settingPages.routes(routes);
    classPages.routes(routes);
    practisePages.routes(routes);
    sittingPages.routes(routes);
    rulingPages.routes(routes);
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(
        NavEntry.of("Class", "/class", 10, Access.INSTRUCTOR),
        NavEntry.of("Practise", "/practise", 10, Access.APPRENTICE));
  }
}
