package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.SelectOption;
import ferrule.drawing.PictureRequest;
import ferrule.drawing.Visible;
import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.Sitting;
import ferrule.people.Person;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;

/**
 * The main job, from end to end in a real browser: an instructor sets a drill, an apprentice takes it, the instructor
 * grades bench work and signs, the coordinator sees it.
 */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class FullCircleIT extends ChromiumVisits {

  private static final String TITLE = "Third slide before Thursday";

  private static Page comeIn(String who, int width, int height) {
    return comeIn(chromium.visitor(width, height).newPage(), who);
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name));
  }

  private static Locator link(Page page, String name) {
    return page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName(name));
  }

  @Test
  @Order(1)
  void anInstructorSetsADrillForTheFirstYear() {
    Page page = comeIn("Isolde", 1440, 900);
    link(page, "Set a drill").click();
    for (Locator box : page.locator("input[name=assembly]").all()) {
      box.setChecked(box.getAttribute("value").equals("third-slide-assembly"));
    }
    page.locator("input[name=kind][value=name]").check();
    page.locator("input[name=kind][value=find]").check();
    page.locator("#length").fill("6");
    page.locator("#cohort").selectOption(new SelectOption().setLabel("First year"));
    page.locator("#title").fill(TITLE);
    button(page, "Set the drill").click();
    assertThat(page.locator("main")).containsText(TITLE);
  }

  @Test
  @Order(2)
  void anApprenticeTakesItOnTheDrawingAndSeesEachVerdictWithItsReason() {
    Page page = comeIn("Wren", 390, 844);
    button(page, "Start with " + TITLE).click();
    Sitting sitting = sitting(page);
    assertEquals(6, sitting.items().size());
    List<ItemKind> kinds = new ArrayList<>();
    for (Item item : sitting.items()) {
      kinds.add(item.kind());
      boolean wrongOnPurpose = item.position() == 1;
      answer(page, item, wrongOnPurpose);
      assertThat(page.locator("#verdict")).isVisible();
      assertThat(page.locator("#verdict .tag")).hasClass(Pattern.compile(wrongOnPurpose ? "bad|open" : "good"));
      page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName(Pattern.compile("Next|See the result"))).click();
    }
    assertTrue(kinds.contains(ItemKind.NAME) && kinds.contains(ItemKind.FIND), "both kinds were asked: " + kinds);
    assertThat(page.locator("main")).containsText("5");
    assertEquals(List.of(), Chromium.seriousFindings(page));
  }

  private static Sitting sitting(Page page) {
    UUID id = UUID.fromString(page.url().replaceAll(".*/drill/([0-9a-f-]{36}).*", "$1"));
    return new DrillStore(ferrule.installation.database()).sitting(id).orElseThrow();
  }

  private static void answer(Page page, Item item, boolean wrongOnPurpose) {
    if (item.kind() == ItemKind.NAME) {
      String term = ferrule.installation.books().glossary().get(item.key()).term();
      page.locator("#answer").fill(wrongOnPurpose ? "sousaphone" : term);
      button(page, "Answer").click();
    } else if (wrongOnPurpose) {
      button(page, "I do not know").click();
    } else {
      pointAt(page, item);
      button(page, "This is it").click();
    }
  }

  /** Taps the place where the part lies on the drawing, as a person who knows it would. */
  private static void pointAt(Page page, Item item) {
    Visible there =
        ferrule.installation.books().studio()
            .picture(PictureRequest.of(item.view()).variants(item.variants()))
            .visible()
            .get(item.key());
    Locator drawing = page.locator("figure.hero svg").first();
    drawing.scrollIntoViewIfNeeded();
    List<?> spot =
        (List<?>) drawing.evaluate(
            "(svg, [x, y]) => { const p = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM()); return [p.x, p.y]; }",
            List.of(there.anchor().x(), there.anchor().y()));
    page.mouse().click(((Number) spot.get(0)).doubleValue(), ((Number) spot.get(1)).doubleValue());
  }

  @Test
  @Order(3)
  void theInstructorSeesWhoHasDoneIt() {
    Page page = comeIn("Isolde", 820, 1180);
    link(page, TITLE).click();
    assertThat(page.locator("tr", new Page.LocatorOptions().setHasText("Wren Aldous"))).containsText("6 of 6");
  }

  @Test
  @Order(4)
  void theInstructorGradesAWaterKeyAtTheBenchAndSigns() {
    Page page = comeIn("Isolde", 820, 1180);
    link(page, "Bench").click();
    page.getByLabel("Water key cork or pad replacement").check();
    page.getByLabel("Wren Aldous").check();
    page.getByLabel("T-07", new Page.GetByLabelOptions().setExact(true)).check();
    button(page, "Begin").click();
    assertThat(page.locator("main")).containsText("safety data sheet");
    page.locator("form[action$='/cautions'] button[type=submit]").click();
    for (Locator criterion : page.locator("fieldset.criterion").all()) {
      if (criterion.locator("input[type=radio]").count() > 0) {
        criterion.locator("input[type=radio]").last().check();
      } else {
        criterion.getByLabel("At least").fill("2");
        criterion.getByLabel("At most").fill("4");
        criterion.getByLabel("Reading").fill("3");
      }
    }
    button(page, "Look it over and sign").click();
    assertThat(page.locator("h1")).containsText("You are about to sign this");
    assertThat(page.locator("main")).containsText("Wren Aldous");
    page.getByLabel("Your PIN").fill("1111");
    button(page, "Sign as Isolde Farrow").click();
    assertThat(page.getByRole(AriaRole.ALERT)).isVisible();
    page.getByLabel("Your PIN").fill("2468");
    button(page, "Sign as Isolde Farrow").click();
    assertThat(page.locator("main")).containsText("Isolde Farrow");
    assertThat(page.locator("h1")).containsText("ecord");
  }

  @Test
  @Order(5)
  void theCoordinatorSeesTheSignOffAndWhatIsStillMissing() {
    Person wren = ferrule.installation.people().person(DemoProgramme.id("Wren Aldous")).orElseThrow();
    Page page = comeIn("Magnus", 1440, 900);
    link(page, "First year").first().click();
    assertThat(page.locator("main")).containsText(wren.fullName());
    assertThat(page.locator("main")).containsText("issing");
  }

  @Test
  @Order(6)
  void whoOfTheSecondYearLacksSolderingAndWhyTakesTwoSteps() {
    Page page = comeIn("Magnus", 1440, 900);
    link(page, "Second year").first().click();
    page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Soldering").setExact(true)).click();
    assertThat(page.locator("h2").first()).hasText("Soldering");
    assertThat(row(page, "Thea Novak")).containsText("one sign-off of “Soldering a loose brace”");
    assertThat(row(page, "Anselm Dray")).containsText(Pattern.compile("because the last, of .+, is older than six months"));
    assertThat(row(page, "Uri Falconer")).containsText("complete");
  }

  private static Locator row(Page page, String name) {
    return page.locator("tr", new Page.LocatorOptions().setHasText(name));
  }
}
