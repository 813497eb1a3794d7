package ferrule.app;

import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.people.Person;
import ferrule.store.Database;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.jooq.impl.DSL;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Everything that is kept about a person, as they take it from their account page, on both databases. */
class EverythingIT {

  private static Map<String, byte[]> unpacked(byte[] zip) throws IOException {
    Map<String, byte[]> files = new TreeMap<>();
    try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(zip), StandardCharsets.UTF_8)) {
      for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
        files.put(entry.getName(), in.readAllBytes());
      }
    }
    return files;
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void anApprenticeTakesAllThatIsTheirsAndNobodyElses(Database database) throws IOException {
    try (Installation installation = new Installation(
        Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC)) {
      DemoProgramme.fill(installation);
      Instant latest =
          database.dsl().select(DSL.max(DRILL_RESPONSE.ANSWERED_AT)).from(DRILL_RESPONSE).fetchSingle().value1();
      // an answer of the demo from a day to come would make every real one late
      assertTrue(latest.isBefore(LocalDate.now(ZoneOffset.UTC).atStartOfDay().toInstant(ZoneOffset.UTC)), () -> "the demo's last answer: " + latest);
      Person wren = installation.people().person(DemoProgramme.id("Wren Aldous")).orElseThrow();
      try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, false, List.of()))) {
        Browser browser = new Browser(server.port());
        browser.signIn(wren.signInName(), "copper kettle", "/");
        assertEquals(403, browser.get("/people/" + wren.id() + "/everything.zip").status());
        check(database, wren, unpacked(browser.getBytes("/account/everything.zip")));
      }
    }
  }

  private static void check(Database database, Person wren, Map<String, byte[]> files) throws IOException {
    for (String pdf : List.of("record.pdf", "overview.pdf")) {
      assertEquals("%PDF-", new String(files.get(pdf), 0, 5, StandardCharsets.US_ASCII), pdf);
    }
    Object hash = database.dsl().fetchValue("select password_hash from person where id = ?", wren.id());
    for (Map.Entry<String, byte[]> file : files.entrySet()) {
      assertFalse(new String(file.getValue(), StandardCharsets.UTF_8).contains(hash.toString()), file.getKey());
    }
    assertTrue(files.keySet().stream().anyMatch(name -> name.startsWith("photos/")), files.keySet().toString());
    counts(database, wren, files, "record_log", "subject_id = ?");
    counts(database, wren, files, "drill_response", "sitting_id in (select id from drill_sitting where person_id = ?)");
    counts(database, wren, files, "person", "id = ?");
    JsonNode account = new ObjectMapper().readTree(files.get("about/person.json")).get(0);
    assertEquals(wren.fullName(), account.get("full_name").asText());
    assertFalse(account.has("pin_hash"));
  }

  private static void counts(Database database, Person who, Map<String, byte[]> files, String table, String where)
      throws IOException {
    int kept = database.dsl().fetch("select 1 from " + table + " where " + where, who.id()).size();
    assertTrue(kept > 0, table);
    assertEquals(kept, new ObjectMapper().readTree(files.get("about/" + table + ".json")).size(), table);
  }
}
