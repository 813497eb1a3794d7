package ferrule.app;

import com.deque.html.axecore.args.AxeRunOptions;
import com.deque.html.axecore.playwright.AxeBuilder;
import com.deque.html.axecore.results.AxeResults;
import com.deque.html.axecore.results.Rule;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ServiceWorkerPolicy;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** A real Chromium without a window, driven from tests; the machine's own, nothing is downloaded. */
final class Chromium implements AutoCloseable {

  private static final List<String> ARGUMENTS =
      List.of(
          "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
          "--disable-component-update", "--disable-sync");

  /** How long a page may take to become what a test expects, in milliseconds: long enough for a busy machine. */
  private static final double PATIENCE = 20_000;

  private final Playwright playwright;
  private final Browser browser;

  Chromium() {
    PlaywrightAssertions.setDefaultAssertionTimeout(PATIENCE);
    playwright =
        Playwright.create(new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
    browser =
        playwright
            .chromium()
            .launch(new BrowserType.LaunchOptions().setExecutablePath(executable()).setArgs(ARGUMENTS));
  }

  private static Path executable() {
    Optional<String> named = Optional.ofNullable(System.getenv("FERRULE_CHROMIUM"));
    Stream<Path> onPath =
        Stream.of(System.getenv("PATH").split(java.io.File.pathSeparator))
            .flatMap(folder -> Stream.of("chromium", "chromium-browser").map(name -> Path.of(folder, name)));
    return Stream.concat(named.map(Path::of).stream(), onPath)
        .filter(Files::isExecutable)
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalStateException(
                    "no Chromium found: install the package chromium, or name its program in FERRULE_CHROMIUM"));
  }

  /** A visitor with cookies of their own, whose window is this wide and high. */
  BrowserContext visitor(int width, int height) {
    return browser.newContext(new Browser.NewContextOptions().setViewportSize(width, height));
  }

  /** A visitor with fingers, whose window is this wide and high. */
  BrowserContext visitorWithTouch(int width, int height) {
    return browser.newContext(
        new Browser.NewContextOptions().setViewportSize(width, height).setHasTouch(true).setIsMobile(true));
  }

  /** A visitor whose requests all reach the network, where a test can hold them up. */
  BrowserContext visitorWithoutWorker(int width, int height) {
    return browser.newContext(
        new Browser.NewContextOptions().setViewportSize(width, height).setServiceWorkers(ServiceWorkerPolicy.BLOCK));
  }

  /** A visitor without script. */
  BrowserContext visitorWithoutScript(int width, int height) {
    return browser.newContext(
        new Browser.NewContextOptions().setViewportSize(width, height).setJavaScriptEnabled(false));
  }

  /** Presses a key on the page once it is painted: what is pressed before the first paint the browser passes over. */
  static void press(Page page, String key) {
    awaitPaint(page);
    page.keyboard().press(key);
  }

  /** Presses a key on an element once its page is painted. */
  static void press(Locator element, String key) {
    element.waitFor();
    awaitPaint(element.page());
    element.press(key);
  }

  private static void awaitPaint(Page page) {
    page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))");
  }

  /** What an automatic check finds wrong with a page for people with disabilities, if it is serious or critical. */
  static List<String> seriousFindings(Page page) {
    AxeRunOptions options = new AxeRunOptions();
    options.setResultTypes(List.of("violations"));
    // our pages have no frames, whose results alone need a window to be put together in: four times as fast without
    AxeResults results = new AxeBuilder(page).options(options).setLegacyMode(true).analyze();
    return results.getViolations().stream()
        .filter(rule -> Set.of("serious", "critical").contains(rule.getImpact()))
        .map(rule -> page.url() + ": " + rule.getId() + " at " + places(rule))
        .toList();
  }

  /** Closes every window, with all that their visitors have kept. */
  void sendVisitorsAway() {
    List.copyOf(browser.contexts()).forEach(BrowserContext::close);
  }

  private static String places(Rule rule) {
    return rule.getNodes().stream().map(node -> node.getTarget() + " " + node.getHtml()).limit(4).toList().toString();
  }

  @Override
  public void close() {
    browser.close();
    playwright.close();
  }
}
