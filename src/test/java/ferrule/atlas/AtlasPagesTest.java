package ferrule.atlas;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.View;
import ferrule.glossary.Concept;
import ferrule.glossary.Variant;
import ferrule.naming.TermReader;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.Browser.Answer;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

class AtlasPagesTest {

  private static final Pattern OWN_LINK = Pattern.compile("href=\"(/instrument[^\"]*)\"");
  private static final Mentions MENTIONS =
      part -> part.value().equals("receiver")
          ? List.of(new Mentions.Mention("Pull a stuck mouthpiece", "/procedures/pull-a-stuck-mouthpiece"))
          : List.of();

  private static Database database;
  private static WebServer server;
  private static Browser visitor;

  @BeforeAll
  static void open() {
    database = RealDatabases.h2();
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    people.add(
        new Person(UUID.randomUUID(), "isolde", "Isolde Farrow", Role.INSTRUCTOR, Optional.empty()),
        Optional.of("brass lantern"), Optional.empty());
    server =
        WebServer.start(
            new WebConfig("127.0.0.1", 0, false, List.of()),
            people,
            List.of(
                new AtlasPages(
                    TheTrumpet.GLOSSARY, TermReader.of(TheTrumpet.GLOSSARY), TheTrumpet.STUDIO, "e1", MENTIONS)));
    visitor = new Browser(server.port());
    visitor.signIn("isolde", "brass lantern", "/");
  }

  @AfterAll
  static void close() {
    server.close();
    database.close();
  }

  @Test
  void everyConceptOfTheGlossaryHasAPageUnderItsPreferredTerm() {
    List<String> failed = new ArrayList<>();
    for (Concept concept : TheTrumpet.GLOSSARY.concepts()) {
      Answer page = visitor.get("/instrument/" + concept.id() + "?labels=none");
      if (page.status() != 200 || !page.body().contains("<h1 class=\"term\">" + concept.term() + "</h1>")) {
        failed.add(concept.id() + ": " + page.status());
      }
    }
    assertEquals(List.of(), failed);
  }

  @Test
  void everyLinkOnTheWalkLeadsSomewhere() {
    Set<String> links = new TreeSet<>();
    for (String page : List.of("/instrument/third-slide-assembly", "/instrument/knuckle")) {
      Matcher link = OWN_LINK.matcher(visitor.get(page).body());
      while (link.find()) {
        links.add(link.group(1).replace("&amp;", "&"));
      }
    }
    assertTrue(links.size() > 40, "links found: " + links.size());
    links.stream().filter(link -> link.contains("?")).forEach(
        link -> assertEquals(200, visitor.get(link).status(), link));
  }

  @Test
  void theChosenModelGoesAlongFromPageToPage() {
    String page = visitor.get("/instrument/third-slide-assembly?model=professional.button-key").body();
    assertTrue(page.contains("/instrument/third-slide-crook?model=professional.button-key"), "links keep the model");
    assertTrue(page.contains("plunger</a>"), "a part of that model");
    assertFalse(visitor.get("/instrument/third-slide-assembly").body().contains("?model="
        + TheTrumpet.GLOSSARY.variants().stream().map(Variant::id).findFirst().orElseThrow() + "\" data-shape"));
  }

  @Test
  void theDrawingOfAPartLightsItAndNamesItsNeighbours() {
    String page = visitor.get("/instrument/third-slide-crook").body();
    assertTrue(Pattern.compile("class=\"part m-\\w+ lit\"").matcher(page).find(), "lit");
    assertTrue(page.contains("class=\"labels terms\""), "terms for wide windows");
    assertTrue(page.contains("class=\"labels numbers\""), "numbers for narrow ones");
    assertTrue(page.contains("third slide upper ferrule</a>"));
  }

  @Test
  void whatIsBesideThePartsCanBeChosen() {
    assertFalse(visitor.get("/instrument/third-slide-crook?labels=none").body().contains("class=\"labels"));
    String numbers = visitor.get("/instrument/third-slide-crook?labels=numbers").body();
    assertTrue(numbers.contains("class=\"labels numbers\"") && !numbers.contains("class=\"labels terms\""));
    assertTrue(numbers.contains("<span class=\"part-number\">1</span>"));
  }

  @Test
  void aPartWithoutAShapeIsShownByWhatItBelongsTo() {
    String page = visitor.get("/instrument/leadpipe-venturi").body();
    assertTrue(page.contains("It is not drawn by itself. The drawing shows the leadpipe"), "says what is shown");
    assertTrue(page.contains("href=\"/instrument/leadpipe-venturi?view="), "another drawing keeps to the page");
  }

  @Test
  void workThatTouchesAPartIsLinked() {
    assertTrue(visitor.get("/instrument/receiver").body().contains("href=\"/procedures/pull-a-stuck-mouthpiece\""));
    assertFalse(visitor.get("/instrument/leadpipe").body().contains("Work that touches it"));
  }

  @Test
  void aClearNameGoesStraightToItsPart() {
    Answer answer = visitor.get("/instrument/find?name=bow+of+the+3rd+slide");
    assertEquals(303, answer.status());
    assertEquals("/instrument/third-slide-crook", answer.location().replaceFirst("^http://[^/]*", ""));
  }

  @Test
  void aVagueNameShowsAllThatItFits() {
    String page = visitor.get("/instrument/find?name=ferrule").body();
    assertTrue(page.contains("Which one is meant?"));
    assertTrue(page.contains("Leadpipe ferrule") || page.contains("leadpipe ferrule"));
  }

  @Test
  void whatIsTypedCannotBecomeMarkup() {
    String page = visitor.get("/instrument/find?name=%3Cscript%3Ealert(1)%3C/script%3E").body();
    assertFalse(page.contains("<script>alert"));
    assertEquals(400, visitor.get("/instrument/find?name=" + "a".repeat(201)).status());
  }

  @Test
  void aStrangeAddressIsAnswered404AndAStrangeWishIsPassedOver() {
    assertEquals(404, visitor.get("/instrument/no-such-part").status());
    assertEquals(404, visitor.get("/instrument/No_Such").status());
    assertEquals(404, visitor.get("/instrument/plate/no-such-view").status());
    assertEquals(200, visitor.get("/instrument?view=no-such-view&model=none.of.these&labels=loud").status());
  }

  @Test
  void aPlateOfThisEditionMayBeKeptAndOnlyByThisBrowser() {
    View view = TheTrumpet.STUDIO.views().get(0);
    Answer kept = visitor.get("/instrument/plate/" + view.id() + "?part=receiver&edition=e1");
    assertEquals("image/svg+xml", kept.header("Content-Type").replaceFirst(";.*", ""));
    assertEquals("private, max-age=31536000, immutable", kept.header("Cache-Control"));
    Answer other = visitor.get("/instrument/plate/" + view.id() + "?part=receiver&edition=e0");
    assertEquals("no-store", other.header("Cache-Control"));
  }

  @Test
  void onlyThoseWhoAreSignedInWalkTheInstrument() {
    Browser stranger = new Browser(server.port());
    for (String path : List.of("/instrument", "/instrument/receiver", "/instrument/find?name=crook",
        "/instrument/plate/" + TheTrumpet.STUDIO.views().get(0).id())) {
      assertNotEquals(200, stranger.get(path).status(), path);
    }
  }
}
