package ferrule.procedure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The pages of the procedures over real HTTP, without script. */
class ProcedurePagesTest {

  private static final String SOLDERING = "/procedures/solder-loose-brace";
  private static final Pattern SHOWN = Pattern.compile("name=\"step\" value=\"([a-z0-9-]+)\"");

  private static Database database;
  private static WebServer server;
  private static ProcedureBook book;
  private static Browser apprentice;
  private static Browser instructor;

  @BeforeAll
  static void open() {
    Problems problems = new Problems();
    Curriculum curriculum = Curriculum.bundled();
    Glossary glossary = GlossaryReader.read(curriculum, "trumpet", problems).orElseThrow();
    book = ProcedureReader.readBook(curriculum, glossary, problems).orElseThrow();
    database = RealDatabases.h2();
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(new ProcedurePages(book, glossary)));
    apprentice = signedIn(people, "wren", Role.APPRENTICE);
    instructor = signedIn(people, "isolde", Role.INSTRUCTOR);
  }

  private static Browser signedIn(PeopleStore people, String name, Role role) {
    people.add(
        new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty()),
        Optional.of("copper kettle"),
        Optional.empty());
    Browser browser = new Browser(server.port());
    browser.signIn(name, "copper kettle", "/procedures");
    return browser;
  }

  @AfterAll
  static void close() {
    server.close();
    database.close();
  }

  @Test
  void whoIsNotSignedInReadsNothing() {
    assertEquals(303, new Browser(server.port()).get(SOLDERING).status());
  }

  @Test
  void theListLeadsToEveryProcedureAndEachSaysItsStepsWithTheirCautions() {
    String list = apprentice.get("/procedures").body();
    for (Procedure procedure : book.procedures()) {
      assertTrue(list.contains("href=\"/procedures/" + procedure.id() + "\""), procedure::toString);
      String page = apprentice.get("/procedures/" + procedure.id()).body();
      assertTrue(page.contains(book.cautions().restsWith().substring(0, 30)), procedure::toString);
      for (Step step : procedure.steps()) {
        String described = page.substring(page.indexOf("id=\"step-" + (procedure.indexOf(step.id()) + 1) + "\""));
        described = described.substring(0, described.indexOf("</li>\n    <li class=\"sheet") < 0
            ? described.length() : described.indexOf("</li>\n    <li class=\"sheet"));
        for (Caution caution : step.cautions()) {
          assertTrue(described.contains("<strong>" + caution.title()), step.id() + " without " + caution.id());
        }
      }
    }
  }

  @Test
  void theNumberOfOrdersThatWorkIsForThoseWhoTeach() {
    assertTrue(instructor.get(SOLDERING).body().contains("<strong>448</strong> of the 87,178,291,200 orders"));
    assertFalse(apprentice.get(SOLDERING).body().contains("448"));
    assertTrue(instructor.get("/procedures").body().contains("448 orders that work"));
    assertFalse(apprentice.get("/procedures").body().contains("orders that work"));
  }

  @Test
  void thePartsOfAStepLeadToTheirPages() {
    assertTrue(apprentice.get(SOLDERING).body().contains("href=\"/instrument/rear-leadpipe-bell-brace-bell-flange\""));
  }

  @Test
  void practiceStartsFromAShuffleThatItsAddressRepeats() {
    Browser.Answer start = apprentice.get(SOLDERING + "/order");
    assertEquals(303, start.status());
    assertTrue(start.location().matches(SOLDERING + "/order\\?shuffle=\\d+"), start::location);
    List<String> shown = shown(apprentice.get(SOLDERING + "/order?shuffle=7"));
    assertEquals(shown, shown(apprentice.get(SOLDERING + "/order?shuffle=7")));
    assertFalse(OrderJudge.judge(soldering(), shown.stream().map(StepId::of).toList()).isRight());
  }

  @Test
  void theButtonsMoveAStepByOnePlaceWithoutScript() {
    List<String> shown = shown(apprentice.get(SOLDERING + "/order?shuffle=7"));
    List<String> moved = new ArrayList<>(shown);
    moved.add(1, moved.remove(2));
    assertEquals(moved, shown(apprentice.get(address(shown) + "&move=up-3")));
    assertEquals(shown, shown(apprentice.get(address(moved) + "&move=down-2")));
    assertEquals(shown, shown(apprentice.get(address(shown) + "&move=up-1")));
    assertEquals(shown, shown(apprentice.get(address(shown) + "&move=down-" + shown.size())));
  }

  @Test
  void anyOrderThatWorksIsRightAndAnyOtherSaysWhatToMoveAndWhy() {
    List<String> listed = soldering().stepIds().stream().map(StepId::value).collect(Collectors.toList());
    assertTrue(apprentice.get(address(listed) + "&judge=1").body().contains("That order works"));
    List<String> other = new ArrayList<>(listed);
    other.add(0, other.remove(other.indexOf("shield")));
    assertTrue(apprentice.get(address(other) + "&judge=1").body().contains("That order works"));
    List<String> wrong = new ArrayList<>(listed);
    wrong.add(wrong.indexOf("heat-joint") + 1, wrong.remove(wrong.indexOf("flux-joint")));
    String judged = apprentice.get(address(wrong) + "&judge=1").body();
    assertTrue(judged.contains("One step to move"));
    assertTrue(judged.contains("Clamped before the flux was on: no flux gets between the faces any more"));
    assertTrue(judged.contains("nothing is kept"));
  }

  @Test
  void theQuestionsOfASetStayTheSameAndTellWhatWasRightOnlyWhenTheyAreJudged() {
    for (Procedure procedure : book.procedures()) {
      String address = "/procedures/" + procedure.id() + "/questions";
      assertTrue(apprentice.get(address).location().matches(address + "\\?set=\\d+"));
      String asked = apprentice.get(address + "?set=3").body();
      int questions = count(asked, "<fieldset");
      assertTrue(questions >= 3, procedure + " asks " + questions);
      assertEquals(4 * questions, count(asked, "type=\"radio\""));
      assertFalse(asked.contains(">the right one<"));
      assertEquals(asked.replaceAll("csrf\" value=\"[^\"]*", ""),
          apprentice.get(address + "?set=3").body().replaceAll("csrf\" value=\"[^\"]*", ""));
      int right = 0;
      for (int place = 1; place <= 4; place++) {
        StringBuilder answers = new StringBuilder("?set=3&judge=1");
        for (int number = 1; number <= questions; number++) {
          answers.append("&answer-").append(number).append('=').append(place);
        }
        String judged = apprentice.get(address + answers).body();
        assertEquals(questions, count(judged, ">the right one<"));
        right += count(judged, ">right</span>");
      }
      // of the four answers to each question, given in turn, one is right
      assertEquals(questions, right);
    }
  }

  @Test
  void anAddressThatDoesNotHoldEachStepOnceIsRefused() {
    List<String> listed = soldering().stepIds().stream().map(StepId::value).toList();
    assertEquals(400, apprentice.get(address(listed.subList(1, listed.size())) + "&judge=1").status());
    assertEquals(400, apprentice.get(address(List.of("flux-joint", "flux-joint")) + "&judge=1").status());
    assertEquals(400, apprentice.get(SOLDERING + "/order?step=%3Cscript%3E").status());
    assertEquals(404, apprentice.get("/procedures/no-such-work").status());
  }

  @Test
  void theDrawingShowsEachStepOnceAndALineForEachPrecedence() {
    for (Procedure procedure : book.procedures()) {
      for (String svg : List.of(PrecedenceDrawing.withNames(procedure), PrecedenceDrawing.withNumbers(procedure))) {
        assertEquals(procedure.steps().size(), count(svg, "<rect "));
        assertEquals(procedure.precedences().size(), count(svg, "class=\"line\""));
      }
    }
  }

  @Test
  void theDrawingPlacesEveryStepBelowWhatItWaitsForAndNoTwoOverEachOther() {
    for (Procedure procedure : book.procedures()) {
      LayeredLayout layout = new LayeredLayout(procedure.order(), 200, 30);
      layout.lines().forEach(line -> {
        for (int i = 1; i < line.size(); i++) {
          assertEquals(line.get(i - 1).row + 1, line.get(i).row);
        }
      });
      for (List<LayeredLayout.Spot> row : layout.rows()) {
        for (int i = 1; i < row.size(); i++) {
          double room = (row.get(i - 1).isBend() ? 15 : 100) + (row.get(i).isBend() ? 15 : 100);
          assertTrue(row.get(i).x - row.get(i - 1).x >= room - 0.001, procedure::toString);
        }
      }
    }
  }

  private static int count(String text, String piece) {
    return text.split(Pattern.quote(piece), -1).length - 1;
  }

  private static Procedure soldering() {
    return book.find("solder-loose-brace").orElseThrow();
  }

  private static String address(List<String> steps) {
    return SOLDERING + "/order?" + steps.stream().map(s -> "step=" + s).collect(Collectors.joining("&"));
  }

  private static List<String> shown(Browser.Answer page) {
    assertEquals(200, page.status());
    List<String> shown = new ArrayList<>();
    Matcher steps = SHOWN.matcher(page.body());
    while (steps.find()) {
      shown.add(steps.group(1));
    }
    return shown;
  }
}
