package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.Cookie;
import com.microsoft.playwright.options.FilePayload;
import com.microsoft.playwright.options.WaitUntilState;
import ferrule.bench.BlindGrade;
import ferrule.bench.BlindStore;
import ferrule.bench.Finding;
import ferrule.people.Opening;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.Clock;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;

/** Grading at the bench in a real browser: on a tablet, with two instructors, with and without script. */
class BenchIT extends ChromiumVisits {

  private static final int TABLET = 820;
  private static final int TABLET_HEIGHT = 1180;

  private int taps;

  private void tap(Locator target) {
    taps++;
    target.tap();
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name)).first();
  }

  private static Locator choice(Page page, String name) {
    return page.locator("label.choice", new Page.LocatorOptions().setHasText(Pattern.compile("^\\s*" + name + "(\\s[\\s\\S]*)?$")));
  }

  private static Page isolde(BrowserContext visitor) {
    return comeIn(visitor.newPage(), "Isolde");
  }

  /** The second instructor, who has no button on the demo's sign-in page, on the bench page. */
  private static Page tobias(BrowserContext visitor) {
    String token = ferrule.installation.people().sessions()
        .open(DemoProgramme.id("Tobias Renn"), Opening.by(Opening.How.PASSWORD, "a second tablet"));
    visitor.addCookies(List.of(new Cookie("ferrule_session", token).setUrl(ferrule.at("/"))));
    Page page = visitor.newPage();
    page.navigate(ferrule.at("/bench"));
    return page;
  }

  private static void begin(Page page, String task, String apprentice, String tag) {
    page.navigate(ferrule.at("/bench"));
    choice(page, task).click();
    choice(page, apprentice).click();
    choice(page, tag).click();
    button(page, "Begin").click();
    button(page, "All of these are in place").click();
  }

  private static Locator criterion(Page page, String id) {
    return page.locator("fieldset[data-criterion='" + id + "']");
  }

  private static void rate(Page page, String id, int level) {
    criterion(page, id).locator("input[value='" + level + "']").check();
  }

  private static void kept(Page page) {
    assertThat(page.locator("#kept")).hasText("Kept.");
  }

  private static void enterAll(Page page, int cupClean) {
    rate(page, "cup-clean", cupClean);
    rate(page, "fit-in-cup", 4);
    rate(page, "seat", 3);
    rate(page, "seal", 2);
    rate(page, "spring", 3);
    criterion(page, "opening").getByLabel("At least").fill("2");
    criterion(page, "opening").getByLabel("At most").fill("4");
    criterion(page, "opening").getByLabel("Reading").fill("1/8 in");
    assertThat(page.locator("#summary")).containsText("All criteria are in");
    kept(page);
  }

  @Test
  void aTaskIsGradedAndSignedInTwelveTapsAndThePin() {
    Page page = isolde(chromium.visitorWithTouch(TABLET, TABLET_HEIGHT));
    page.navigate(ferrule.at("/bench"));
    taps = 0;
    tap(choice(page, "Water key cork or pad replacement"));
    tap(choice(page, "Greta Soames"));
    tap(choice(page, "T-16"));
    tap(button(page, "Begin"));
    tap(button(page, "All of these are in place"));
    tap(button(page, "Rest as expected"));
    tap(criterion(page, "seat").locator("label.choice").last());
    tap(criterion(page, "opening").getByLabel("Reading"));
    page.keyboard().type("3");
    assertThat(page.locator("[id='verdict.opening']")).containsText("within the limits");
    tap(button(page, "Look it over and sign"));
    assertThat(page.locator("main")).containsText("Held evenly all the way round");
    page.getByLabel("Your PIN").fill("2468");
    tap(button(page, "Sign as Isolde Farrow"));
    assertThat(page.locator("h1")).containsText("Sign-off");
    assertTrue(taps <= 12, "taps: " + taps);
    System.out.println("A water key graded and signed in " + taps + " taps and the PIN");
  }

  @Test
  void fromTheQueueItTakesFewerTapsAndTheApprenticeSeesTheirPlace() {
    Page wren = comeIn(chromium.visitor(390, 844).newPage(), "Wren");
    wren.navigate(ferrule.at("/ready"));
    choice(wren, "Stuck mouthpiece removal").click();
    choice(wren, "T-18").click();
    button(wren, "I am ready to be checked").click();
    Locator own = wren.locator("li.own", new Page.LocatorOptions().setHasText("Stuck mouthpiece"));
    assertThat(own).containsText("before you");
    assertEquals(List.of(), Chromium.seriousFindings(wren));

    Page page = isolde(chromium.visitorWithTouch(TABLET, TABLET_HEIGHT));
    page.navigate(ferrule.at("/bench"));
    taps = 0;
    tap(button(page, "Grade Wren Aldous, Stuck mouthpiece removal"));
    page.waitForURL("**/bench/drafts/*");
    wren.navigate(ferrule.at("/ready"));
    assertThat(own).containsText("Isolde Farrow is looking at it now");
    assertThat(own.getByRole(AriaRole.BUTTON)).hasCount(0);
    tap(button(page, "All of these are in place"));
    tap(button(page, "Rest as expected"));
    tap(criterion(page, "depth").getByLabel("At most"));
    page.keyboard().type("30");
    tap(criterion(page, "depth").getByLabel("Reading"));
    page.keyboard().type("25.4");
    tap(button(page, "Look it over and sign"));
    page.getByLabel("Your PIN").fill("2468");
    tap(button(page, "Sign as Isolde Farrow"));
    assertThat(page.locator("h1")).containsText("Sign-off");
    assertTrue(taps <= 12, "taps: " + taps);
    wren.navigate(ferrule.at("/ready"));
    assertThat(own).hasCount(0);
  }

  @Test
  void twoInstructorsWhoGradeTheSameApprenticeAtOnceLoseNothingAndSignOnce() {
    long before = ferrule.installation.ledger().head().size();
    Page first = isolde(chromium.visitor(TABLET, TABLET_HEIGHT));
    Page second = tobias(chromium.visitor(TABLET, TABLET_HEIGHT));
    begin(first, "Water key cork or pad replacement", "Hale Petrov", "T-19");
    begin(second, "Water key cork or pad replacement", "Hale Petrov", "T-19");
    assertThat(second.locator("main")).containsText("Isolde Farrow has begun to grade the same work too");
    enterAll(first, 4);
    enterAll(second, 1);
    first.reload();
    assertTrue(criterion(first, "cup-clean").locator("input[value='4']").isChecked(), "the other's taps are the other's");
    button(first, "Look it over and sign").click();
    button(second, "Look it over and sign").click();
    first.getByLabel("Your PIN").fill("2468");
    second.getByLabel("Your PIN").fill("1357");
    // both press at the same moment
    for (Page page : List.of(first, second)) {
      page.evaluate("setTimeout(() => document.querySelector('form[action$=\"/sign\"]').requestSubmit(), 300)");
    }
    first.waitForURL(Pattern.compile(".*/(records/.*|sign)$"));
    second.waitForURL(Pattern.compile(".*/(records/.*|sign)$"));
    assertEquals(before + 1, ferrule.installation.ledger().head().size(), "one work, one sign-off");
    Page late = first.url().contains("/records/") ? second : first;
    String whoSigned = late == second ? "Isolde Farrow" : "Tobias Renn";
    assertThat(late.getByRole(AriaRole.ALERT)).containsText("Not signed yet: " + whoSigned);
    assertThat(late.locator("main")).containsText(late == second ? "Old cork or adhesive is left" : "Clean and dry, and no tool");

    button(late, "The same work: keep mine as a second grade").click();
    assertThat(late.locator("main")).containsText("Graded blind by others");
    assertThat(late.locator("main")).containsText("Cup and nipple cleaned: level");
    UUID work = UUID.fromString(late.url().replaceAll(".*/", ""));
    List<BlindGrade> both =
        new BlindStore(ferrule.installation.database(), Clock.systemUTC()).blindGrades().stream()
            .filter(g -> g.work().equals(work) && g.finding().criterion().equals("cup-clean")).toList();
    assertEquals(
        List.of(1, 4), both.stream().map(g -> ((Finding.Rated) g.finding()).level()).sorted().toList());
    assertEquals(before + 1, ferrule.installation.ledger().head().size());
  }

  @Test
  void severalAreGradedSideBySide() {
    Page page = isolde(chromium.visitor(TABLET, TABLET_HEIGHT));
    page.navigate(ferrule.at("/bench/groups"));
    choice(page, "Slide fit and alignment").click();
    for (String name : List.of("Bram Okoro", "Nell Quayle", "Kit Vance")) {
      choice(page, name).click();
      page.getByLabel("Tag for " + name).selectOption("T-1" + name.length() % 10);
    }
    button(page, "Begin").click();
    button(page, "All of these are in place at every bench").click();
    button(page, "Rest as expected, for all").click();
    Locator nell = page.locator("fieldset.cell", new Page.LocatorOptions().setHasText("Nell Quayle"));
    nell.first().locator("input[value='2']").check(new Locator.CheckOptions().setForce(true));
    for (Locator field : page.getByLabel("Reading").all()) {
      field.fill("0");
    }
    for (Locator field : page.getByLabel("At most").all()) {
      field.fill("0.3");
    }
    kept(page);
    Locator line = page.locator("li", new Page.LocatorOptions().setHasText("Nell Quayle"));
    assertThat(line).containsText("sound");
    page.reload();
    assertTrue(nell.first().locator("input[value='2']").isChecked());
    assertEquals(List.of(), Chromium.seriousFindings(page));
    line.getByRole(AriaRole.BUTTON).click();
    page.getByLabel("Your PIN").fill("2468");
    button(page, "Sign as Isolde Farrow").click();
    assertThat(page.getByRole(AriaRole.STATUS).first()).containsText("Signed");
    assertThat(page.locator("main")).not().containsText("Nell Quayle");
    assertThat(page.locator("main")).containsText("Kit Vance");
  }

  @Test
  void aPhotoIsAskedForTakenCleanAndSignedByItsHash() throws IOException {
    Page page = isolde(chromium.visitor(TABLET, TABLET_HEIGHT));
    begin(page, "Dent removal in a crook", "Lio Haverford", "T-14");
    button(page, "Rest as expected").click();
    for (String id : List.of("size", "legs")) {
      criterion(page, id).getByLabel("At most").fill("0.3");
      criterion(page, id).getByLabel("Reading").fill("0");
    }
    kept(page);
    button(page, "Look it over and sign").click();
    assertThat(page.getByRole(AriaRole.ALERT)).containsText("asks for a photo");

    page.locator("#photo").setInputFiles(
        new FilePayload("work.jpg", "image/jpeg", "<script>alert(1)</script>".getBytes()));
    assertThat(page.locator("main")).containsText("Send a JPEG or a PNG");
    ByteArrayOutputStream png = new ByteArrayOutputStream();
    ImageIO.write(new BufferedImage(2400, 1800, BufferedImage.TYPE_INT_RGB), "png", png);
    page.locator("#photo").setInputFiles(new FilePayload("work.png", "image/png", png.toByteArray()));
    assertThat(page.locator(".photos img")).hasCount(1);
    assertEquals(1600, ((Number) page.locator(".photos img").evaluate("img => img.decode().then(() => img.naturalWidth)")).intValue());
    String hash = page.locator(".photos a").getAttribute("href").replaceAll(".*/", "");
    assertTrue(criterion(page, "size").getByLabel("Reading").inputValue().equals("0"), "what was entered is there");
    button(page, "Look it over and sign").click();
    page.getByLabel("Your PIN").fill("2468");
    button(page, "Sign as Isolde Farrow").click();
    assertThat(page.locator("h1")).containsText("Sign-off");
    assertThat(page.locator("main")).containsText(hash.substring(0, 16));
    Page stranger = comeIn(chromium.visitor(390, 844).newPage(), "Wren");
    assertEquals(404, stranger.navigate(ferrule.at("/bench/photos/" + hash)).status(), "only whom it concerns");
  }

  @Test
  void aPhotoThatIsChosenBeforeTheScriptsHaveComeIsSentToo() throws IOException {
    Page page = isolde(chromium.visitorWithoutWorker(TABLET, TABLET_HEIGHT));
    begin(page, "Dent removal in a crook", "Edda Lindqvist", "T-14");
    CompletableFuture<Void> chosen = new CompletableFuture<>();
    page.route(Pattern.compile("/static/.*bench.*js"), script -> chosen.thenRun(script::resume));
    page.navigate(page.url(), new Page.NavigateOptions().setWaitUntil(WaitUntilState.COMMIT));
    ByteArrayOutputStream png = new ByteArrayOutputStream();
    ImageIO.write(new BufferedImage(40, 30, BufferedImage.TYPE_INT_RGB), "png", png);
    page.locator("#photo").setInputFiles(new FilePayload("work.png", "image/png", png.toByteArray()));
    assertTrue(chosen.getNumberOfDependents() > 0, "the script is held up");
    chosen.complete(null);
    assertThat(page.locator(".photos img")).hasCount(1);
  }

  @Test
  void dangerousWorkIsSignedByTwoAndWithinAuthority() {
    Page magnus = comeIn(chromium.visitor(TABLET, TABLET_HEIGHT).newPage(), "Magnus");
    magnus.navigate(ferrule.at("/bench/authority"));
    Locator form = magnus.locator("form", new Page.LocatorOptions().setHasText("Tobias Renn"));
    form.getByLabel("Metalwork and finish").selectOption("none");
    form.getByRole(AriaRole.BUTTON).click();
    assertThat(magnus.locator("main")).containsText("From now on Tobias Renn signs what you chose");

    Page second = tobias(chromium.visitor(TABLET, TABLET_HEIGHT));
    assertThat(second.locator("label.choice.off", new Page.LocatorOptions().setHasText("Soldering a loose brace")))
        .containsText("no authority");
    begin(second, "Chemical clean with rinse and neutralising", "Mirren Osei", "T-12");
    button(second, "Rest as expected").click();
    for (Locator field : second.getByLabel("At most").all()) {
      field.fill("60");
    }
    for (Locator field : second.getByLabel("Reading").all()) {
      field.fill("40");
    }
    kept(second);
    button(second, "Look it over and sign").click();
    second.getByLabel("Your PIN").fill("1357");
    button(second, "Sign as Tobias Renn").click();
    assertThat(second.locator("main")).containsText("counts when another instructor has signed it too");
    assertFalse(second.locator("a", new Page.LocatorOptions().setHasText("Look and sign")).isVisible(), "not by the same");

    Page first = isolde(chromium.visitor(TABLET, TABLET_HEIGHT));
    first.navigate(ferrule.at("/bench"));
    first.locator("li", new Page.LocatorOptions().setHasText("Mirren Osei")).locator("a.button").first().click();
    assertThat(first.locator("main")).containsText("Protection in place before the lid is lifted");
    first.getByLabel("Your PIN").fill("2468");
    button(first, "Sign too as Isolde Farrow").click();
    assertThat(first.locator("main")).containsText("Second signature");
    assertThat(first.locator("main")).not().containsText("Signed once");
    magnus.navigate(ferrule.at("/bench/authority"));
    form.getByLabel("Metalwork and finish").selectOption("advanced");
    form.getByRole(AriaRole.BUTTON).click();
  }

  @Test
  void withoutScriptItIsGradedTooAndBlindGradesStayBlind() {
    Page page = isolde(chromium.visitorWithoutScript(TABLET, TABLET_HEIGHT));
    page.navigate(ferrule.at("/bench"));
    page.locator("section[aria-labelledby=blind] li button").first().click();
    assertThat(page.locator("main")).containsText("without seeing the first");
    button(page, "All of these are in place").click();
    button(page, "Rest as expected").click();
    for (Locator field : page.getByLabel("Reading").all()) {
      field.fill("0");
    }
    for (Locator field : page.getByLabel("At least").all()) {
      field.fill("-5");
    }
    for (Locator field : page.getByLabel("At most").all()) {
      field.fill("5");
    }
    button(page, "Look it over").click();
    assertThat(page.locator("h1")).containsText("without seeing the first");
    button(page, "Keep it and see both").click();
    assertThat(page.locator("main")).containsText("Graded blind by others");
    assertThat(page.locator("main")).containsText("Isolde Farrow, without seeing this grade");
  }

  @Test
  void everyScreenOfTheBenchIsFreeOfSeriousFindings() {
    Page page = isolde(chromium.visitor(TABLET, TABLET_HEIGHT));
    for (String path : List.of("/bench", "/bench/groups", "/bench/authority", "/bench/instruments")) {
      page.navigate(ferrule.at(path));
      assertEquals(List.of(), Chromium.seriousFindings(page), path);
    }
    begin(page, "Piston lapping and fit check", "Edda Lindqvist", "T-13");
    assertEquals(List.of(), Chromium.seriousFindings(page));
  }
}
