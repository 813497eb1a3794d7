package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.microsoft.playwright.Page;
import ferrule.curriculum.Curriculum;
import ferrule.store.RealDatabases;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.List;
import org.junit.jupiter.api.Test;

class SignInPageIT {

  @Test
  void everyDemoAccountComesInWithOneTap() {
    try (Installation installation =
            new Installation(Books.read(Curriculum.bundled()), RealDatabases.h2(), Clock.systemUTC(), ZoneOffset.UTC);
        Chromium chromium = new Chromium()) {
      DemoProgramme.fill(installation);
      try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS))) {
        Page page = chromium.visitor(390, 844).newPage();
        page.navigate("http://127.0.0.1:" + server.port() + "/");
        assertEquals(3, page.getByRole(com.microsoft.playwright.options.AriaRole.BUTTON,
            new Page.GetByRoleOptions().setName("Come in as")).count());
        assertEquals(List.of(), Chromium.seriousFindings(page));
      }
    }
  }
}
