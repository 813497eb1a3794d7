package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.Page;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The trail of who saw or changed what, in Chromium, and that no route can miss it. */
class AuditIT extends ChromiumVisits {

  @Test
  void everyRouteOfTheRouterSaysWhatItMeansToTheTrail() throws Exception {
    Set<String> routes = ferrule.routes().stream().map(r -> r.method() + " " + r.path())
        .collect(Collectors.toCollection(TreeSet::new));
    try (InputStream list = AuditIT.class.getResourceAsStream("/audit/routes.txt")) {
      Set<String> listed = new String(list.readAllBytes(), StandardCharsets.UTF_8).lines()
          .filter(l -> !l.startsWith("#") && !l.isBlank()).map(l -> l.split("\\|")[0].strip())
          .collect(Collectors.toCollection(TreeSet::new));
      Set<String> missing = new TreeSet<>(routes);
      missing.removeAll(listed);
      assertEquals(Set.of(), missing, "say in audit/routes.txt what these mean");
      // those of a school's own accounts are there only where there is a provider
      listed.removeAll(routes);
      listed.removeIf(l -> l.startsWith("GET /sign-in/school"));
      assertEquals(Set.of(), listed, "lines that are no route");
    }
  }

  @Test
  void theTrailTellsWhoLookedAndWhoTriedToBothSides() {
    String wren = DemoProgramme.id("Wren Aldous").toString();
    Page instructor = comeIn(chromium.visitor(820, 900).newPage(), "Isolde");
    instructor.navigate(ferrule.at("/record/" + wren));
    instructor.close();
    // another apprentice tries the address
    Page apprentice = comeIn(chromium.visitor(820, 900).newPage(), "Wren");
    assertEquals(404, apprentice.navigate(ferrule.at("/record/" + DemoProgramme.id("Orla Benedek"))).status());
    apprentice.navigate(ferrule.at("/record"));
    apprentice.navigate(ferrule.at("/seen"));
    String seen = apprentice.locator("table").innerText();
    assertTrue(seen.contains("Isolde Farrow") && seen.contains("opened the record"), seen);
    assertFalse(seen.contains("Wren"), seen);
    assertEquals(List.of(), Chromium.seriousFindings(apprentice));
    apprentice.close();

    Page coordinator = comeIn(chromium.visitor(820, 900).newPage(), "Magnus");
    coordinator.navigate(ferrule.at("/trail?about=Orla+Benedek"));
    String about = coordinator.locator("table tbody tr").first().innerText();
    assertTrue(about.contains("Wren Aldous") && about.contains("refused"), about);
    coordinator.navigate(ferrule.at("/trail?kind=signed-in"));
    assertTrue(coordinator.locator("table").innerText().contains("signed in by password"));
    assertFalse(coordinator.locator("table").innerText().contains("begun"), "every change ended");
    assertEquals(List.of(), Chromium.seriousFindings(coordinator));
    assertEquals(200, coordinator.navigate(ferrule.at("/trail?day=%2B999999999-12-31")).status(), "no day follows on it");
    coordinator.close();
  }
}
