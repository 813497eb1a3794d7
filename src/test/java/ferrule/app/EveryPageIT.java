package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Response;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Every page that each role can reach by links, in a real browser: none with a serious finding for people with
 * disabilities, none wider than a phone, none that fails, complains, or asks another host for anything.
 */
class EveryPageIT extends ChromiumVisits {

  /** How many pages of one pattern are looked at; parts alone have some two hundred pages of one pattern. */
  private static final int OF_A_PATTERN = 2;

  @ParameterizedTest
  @ValueSource(strings = {"Wren", "Isolde", "Magnus"})
  void isSoundForEveryoneOnAPhone(String who) {
    try (BrowserContext visitor = chromium.visitor(390, 844)) {
      Page page = visitor.newPage();
      List<String> faults = new ArrayList<>();
      page.onConsoleMessage(m -> {
        if (m.type().equals("error")) {
          faults.add(page.url() + ": console: " + m.text());
        }
      });
      page.onPageError(e -> faults.add(page.url() + ": script: " + e));
      page.onRequest(r -> {
        if (!r.url().startsWith(ferrule.at("/")) && !r.url().startsWith("data:")) {
          faults.add(page.url() + ": asks another host: " + r.url());
        }
      });
      Set<String> patterns = walk(comeIn(page, who), faults);
      System.out.println(who + " looked at " + patterns);
      assertEquals(List.of(), faults);
      assertTrue(patterns.size() >= 4, "too few pages were reached: " + patterns);
    }
  }

  @Test
  void aPageThatIsUnsoundIsFoundOut() {
    try (BrowserContext visitor = chromium.visitor(390, 844)) {
      Page page = visitor.newPage();
      page.navigate(ferrule.at("/sign-in"));
      assertEquals(List.of(), Chromium.seriousFindings(page));
      page.evaluate("document.querySelectorAll('label').forEach(label => label.remove())");
      page.evaluate("document.querySelector('h1').style.color = '#ddd'");
      List<String> findings = Chromium.seriousFindings(page);
      assertTrue(findings.stream().anyMatch(f -> f.contains(": label at ")), findings::toString);
      assertTrue(findings.stream().anyMatch(f -> f.contains(": color-contrast at ")), findings::toString);
    }
  }

  private static Set<String> walk(Page page, List<String> faults) {
    Map<String, Integer> seen = new HashMap<>();
    Set<String> known = new HashSet<>();
    Deque<String> next = new ArrayDeque<>();
    next.add(page.url());
    while (!next.isEmpty()) {
      String url = next.remove();
      if (!known.add(url) || seen.merge(pattern(url), 1, Integer::sum) > OF_A_PATTERN) {
        continue;
      }
      Response response = page.navigate(url);
      if (response.status() != 200) {
        faults.add(url + ": status " + response.status());
        continue;
      }
      faults.addAll(Chromium.seriousFindings(page));
      Number excess = (Number) page.evaluate("document.documentElement.scrollWidth - window.innerWidth");
      if (excess.intValue() > 0) {
        faults.add(url + ": " + excess + " px wider than a phone");
      }
      next.addAll(links(page));
    }
    return seen.keySet();
  }

  /** The pages of ours that a page links to; files to download are not pages. */
  private static List<String> links(Page page) {
    String all = "[...document.querySelectorAll('a[href]:not([download]):not([type])')].map(a => a.href)";
    List<?> hrefs = (List<?>) page.evaluate(all);
    return hrefs.stream()
        .map(String::valueOf)
        .map(href -> href.replaceAll("#.*", ""))
        .filter(href -> href.startsWith(ferrule.at("/")))
        .toList();
  }

  private static String pattern(String url) {
    return url.replace(ferrule.at("/"), "/")
        .replaceAll("[0-9a-f]{8}-[0-9a-f-]{27}", "{id}")
        .replaceAll("/instrument/[a-z0-9-]+", "/instrument/{part}")
        .replaceAll("/procedures/[a-z0-9-]+", "/procedures/{procedure}")
        .replaceAll("/questions/[a-z0-9-]+", "/questions/{concept}")
        .replaceAll("/editions/[0-9a-f]{12}", "/editions/{edition}")
        .replaceAll("\\?.*", "?");
  }
}
