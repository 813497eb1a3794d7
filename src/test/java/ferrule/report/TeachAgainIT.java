package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.drill.Assignment;
import ferrule.drill.ConfusionStore;
import ferrule.drill.DrillPages;
import ferrule.drill.Item;
import ferrule.drill.PartNames;
import ferrule.drill.RulingStore;
import ferrule.drill.Sitting;
import ferrule.drill.Work;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.confusion.Confusion;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.VisitedPages;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What a class mixes up, over HTTP: who sees it, what its files hold, and the drill that is made of it in one step. */
class TeachAgainIT extends VisitedPages {

  private RandomHistory history;
  private DrillPages drillPages;
  private ConfusionPages pages;
  private Cohort cohort;

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    history = RandomHistory.of(database, 41, 500);
    people = history.people();
    cohort = history.cohorts().get(0);
    Studio studio = Studio.of(
        InstrumentReader.read(Curriculum.bundled(), "trumpet", RandomHistory.TRUMPET, new Problems()).orElseThrow(),
        RandomHistory.TRUMPET);
    drillPages = new DrillPages(
        people, history.drills(), new RulingStore(database), Curriculum.bundled(), RandomHistory.TRUMPET, studio, Work.none(),
        history.clock(), RandomHistory.ZONE);
    pages = new ConfusionPages(
        history.desk(), new ConfusionStore(database), history.drills().assignments(), drillPages.pictures(),
        new PartNames(RandomHistory.TRUMPET));
    add("isolde", Role.INSTRUCTOR);
    add("magnus", Role.COORDINATOR);
    add("wren", Role.APPRENTICE);
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(drillPages, pages));
  }

  private String path() {
    return "/cohorts/" + cohort.id() + "/confusion";
  }

  @Test
  void aDrillOnAPairIsSetInOneStepAndAsksForItsPartsOnly() {
    Confusion confusion = pages.confusion(cohort, history.desk().now());
    Confusion.Pair pair = confusion.pairs().stream()
        .filter(p -> drillPages.askable().containsAll(List.of(p.first(), p.second()))).findFirst().orElseThrow();
    Browser isolde = as("isolde");
    String csrf = isolde.get(path()).hidden("csrf");
    Set<Assignment> before = new HashSet<>(history.drills().assignments().standing());
    Browser.Answer answer = isolde.post(path(), Map.of("csrf", csrf, "pair", pair.first() + " " + pair.second()));
    assertEquals(303, answer.status(), answer.body());
    List<Assignment> set =
        history.drills().assignments().standing().stream().filter(a -> !before.contains(a)).toList();
    assertEquals(1, set.size());
    Assignment drill = set.get(0);
    assertEquals("/class/drills/" + drill.id(), answer.location());
    assertEquals(cohort.id(), drill.cohort());
    assertEquals(Set.of(pair.first(), pair.second()), new HashSet<>(drill.plan().parts()));
    Person apprentice = people.members(cohort.id()).get(0);
    Sitting sitting = drillPages.drills().start(apprentice, drill).orElseThrow();
    Set<ConceptId> asked = new HashSet<>(sitting.items().stream().map(Item::key).toList());
    assertEquals(Set.of(pair.first(), pair.second()), asked);
  }

  @Test
  void nothingIsSetWithoutAPairNorByACoordinator() {
    int before = history.drills().assignments().standing().size();
    Browser isolde = as("isolde");
    String csrf = isolde.get(path()).hidden("csrf");
    assertTrue(isolde.post(path(), Map.of("csrf", csrf)).status() >= 400);
    assertTrue(isolde.post(path(), Map.of("csrf", csrf, "pair", "<b> not-a-part")).status() >= 400);
    Browser magnus = as("magnus");
    Browser.Answer seen = magnus.get(path());
    assertEquals(200, seen.status());
    assertFalse(seen.body().contains("Set a drill on"), "a coordinator sets no drills");
    assertEquals(before, history.drills().assignments().standing().size());
    assertEquals(403, as("wren").get(path()).status());
  }

  @Test
  void theFilesHoldEveryMixUp() {
    String csv = as("magnus").get(path() + ".csv").body();
    int rows = csv.strip().split("\r\n").length - 1;
    assertEquals(pages.confusion(cohort, history.desk().now()).cells().size(), rows, csv);
    assertEquals(200, as("magnus").get("/cohorts/" + cohort.id() + "/confusion-pairs.xlsx").status());
    assertEquals(200, as("magnus").get(path() + ".pdf").status());
  }
}
