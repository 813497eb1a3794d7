package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.StepId;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** An item of every kind, answered over real HTTP without script. */
class EveryKindIT {

  private Database database;
  private DrillStore store;
  private WebServer server;
  private Browser browser;
  private Sitting sitting;

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    Clock clock = Clock.fixed(Instant.parse("2026-11-02T12:00:00Z"), ZoneOffset.UTC);
    PeopleStore people = new PeopleStore(database, clock);
    Person wren = new Person(UUID.randomUUID(), "wren", "Invented wren", Role.APPRENTICE, Optional.empty());
    people.add(wren, Optional.of("copper kettle"), Optional.empty());
    store = new DrillStore(database);
    DrillPages pages =
        new DrillPages(
            people, store, new RulingStore(database), Curriculum.bundled(), Trumpet.GLOSSARY, Trumpet.STUDIO,
            new Work(Optional.of(Trumpet.PROCEDURES), List.of(Trumpet.CLEARANCE)), clock, ZoneOffset.UTC);
    server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(pages));
    browser = new Browser(server.port());
    browser.signIn("wren", "copper kettle", "/");
    List<Item> items = new ArrayList<>();
    for (ItemKind kind : ItemKind.values()) {
      items.add(Trumpet.BANK.write(kind, Trumpet.BANK.topics(kind).get(0), items.size() + 1, 5).orElseThrow());
    }
    Plan plan = new Plan(List.of(), List.of(items.get(0).key()), Set.of(ItemKind.values()), items.size(), true);
    sitting =
        store.open(
                new Sitting(
                    UUID.randomUUID(), wren.id(), Optional.empty(), 1, "Questions", plan, 1, "e", Instant.EPOCH, items))
            .orElseThrow();
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  private String path(Item item) {
    return "/drill/" + sitting.id() + "/" + item.position();
  }

  /** The fields that answer an item rightly, or with the first distractor. */
  private static Map<String, String> answer(Item item, boolean right) {
    Map<String, String> fields = new LinkedHashMap<>();
    if (item.choice().isPresent()) {
      List<Option> options = item.choice().get().options();
      Option wanted = options.stream().filter(o -> o.isKey() == right).findFirst().orElseThrow();
      fields.put("option", String.valueOf(options.indexOf(wanted) + 1));
    } else if (item.kind().isPointed()) {
      int key = Trumpet.PICTURES.asking(item, false).shapes().indexOf(item.key());
      fields.put("shape", String.valueOf(right ? key : key + 1));
    } else if (item.interaction() instanceof Interaction.TextEntry entry) {
      String term = Trumpet.GLOSSARY.get(item.key()).term();
      boolean second = !entry.examples().isEmpty();
      fields.put("answer", right ? (second ? entry.examples().get(0) : term) : second ? term : "slide elbow");
    }
    return fields;
  }

  private Browser.Answer send(Item item, Map<String, String> fields) {
    Map<String, String> form = new LinkedHashMap<>(fields);
    form.put("csrf", browser.get(path(item)).hidden("csrf"));
    return browser.post(path(item), form);
  }

  /** A form body with a field for each step, and others. */
  private Browser.Answer sendOrder(Item item, List<StepId> steps, String more) {
    StringBuilder body = new StringBuilder("csrf=").append(encoded(browser.get(path(item)).hidden("csrf")));
    steps.forEach(s -> body.append("&step=").append(encoded(s.value())));
    return browser.postForm(path(item), body + more);
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  @Test
  void theRightAnswerCountsAPointAndIsExplained() {
    for (Item item : sitting.items()) {
      if (item.ordering().isPresent()) {
        assertEquals(303, sendOrder(item, item.ordering().get().work().stepIds(), "").status());
      } else {
        assertEquals(303, send(item, answer(item, true)).status(), item.toString());
      }
      assertEquals(1, store.response(sitting.id(), item.position()).orElseThrow().now().credit(), item.toString());
      String page = browser.get(path(item)).body();
      assertTrue(page.contains(">Right<"), item.kind() + ": " + page);
      assertTrue(page.contains("<svg"), "the part is on the drawing: " + item);
    }
    assertEquals("/drill/" + sitting.id() + "/result", browser.get("/drill/" + sitting.id()).location());
    assertEquals(200, browser.get("/drill/" + sitting.id() + "/result").status());
  }

  @Test
  void aWrongAnswerCountsNothingAndTheRightOneIsShown() {
    for (Item item : sitting.items()) {
      if (item.ordering().isEmpty()) {
        assertEquals(303, send(item, answer(item, false)).status(), item.toString());
        Response response = store.response(sitting.id(), item.position()).orElseThrow();
        assertTrue(response.now().credit() < 1, item + ": " + response.now());
        item.choice().ifPresent(
            choice -> assertTrue(browser.get(path(item)).body().contains("the right one"), item.toString()));
      }
    }
  }

  @Test
  void stepsAreMovedWithoutScriptAndJudgedByWhatMustComeBeforeWhat() {
    Item item = sitting.items().get(ItemKind.ORDER.ordinal());
    List<StepId> shown = new ArrayList<>(item.ordering().orElseThrow().shown());
    Browser.Answer moved = sendOrder(item, shown, "&move=down-1");
    assertEquals(200, moved.status());
    assertTrue(
        moved.body().indexOf("value=\"" + shown.get(1) + "\"") < moved.body().indexOf("value=\"" + shown.get(0) + "\""),
        "the first step stands second");
    assertEquals(Optional.empty(), store.response(sitting.id(), item.position()), "moving is no answer");
    assertEquals(400, sendOrder(item, shown.subList(1, shown.size()), "").status(), "a step is missing");
    assertEquals(303, sendOrder(item, shown, "").status());
    Response response = store.response(sitting.id(), item.position()).orElseThrow();
    assertEquals(new Answer.Ordered(shown.stream().map(StepId::value).toList()), response.answer());
    assertTrue(browser.get(path(item)).body().contains("What to move, and why"));
  }

  @Test
  void nothingChosenIsAskedForAgainAndNotKnowingIsAnAnswer() {
    for (Item item : sitting.items()) {
      if (item.choice().isPresent()) {
        assertEquals(400, send(item, Map.of()).status());
        assertEquals(303, send(item, Map.of("pass", "yes")).status());
        Response response = store.response(sitting.id(), item.position()).orElseThrow();
        assertEquals("no-answer", response.now().verdict());
      }
    }
  }

  @Test
  void whatWasNotRightIsAskedOnceMore() {
    Item odd = sitting.items().get(ItemKind.ODD_ONE_OUT.ordinal());
    for (Item item : sitting.items()) {
      if (item.equals(odd) || item.ordering().isPresent()) {
        send(item, Map.of("pass", "yes"));
      } else {
        send(item, answer(item, true));
      }
    }
    String csrf = browser.get("/drill/" + sitting.id() + "/result").hidden("csrf");
    String next = browser.post("/drill/" + sitting.id() + "/again", Map.of("csrf", csrf)).location();
    Sitting again = store.sitting(UUID.fromString(next.substring(next.lastIndexOf('/') + 1))).orElseThrow();
    assertEquals(List.of(ItemKind.ODD_ONE_OUT, ItemKind.ORDER), again.items().stream().map(Item::kind).toList());
    assertEquals(odd.interaction(), again.items().get(0).interaction());
  }
}
