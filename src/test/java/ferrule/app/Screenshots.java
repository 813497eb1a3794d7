package ferrule.app;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.file.Path;
import java.util.Map;

/** Takes the pictures of the README: each role's main page of the demo programme. */
public final class Screenshots {

  private static final Path FOLDER = Path.of("src", "docs", "screens");
  private static final Map<String, String> ROLES =
      Map.of("apprentice", "Wren", "instructor", "Isolde", "coordinator", "Magnus");

  private Screenshots() {}

  /** Writes one picture for each role into {@code src/docs/screens}. */
  public static void main(String[] args) {
    try (RunningFerrule ferrule = new RunningFerrule();
        Chromium chromium = new Chromium()) {
      ROLES.forEach((role, name) -> take(ferrule, chromium, role, name));
    }
  }

  private static void take(RunningFerrule ferrule, Chromium chromium, String role, String name) {
    try (BrowserContext visitor = chromium.visitor(1280, 860)) {
      Page page = visitor.newPage();
      page.navigate(ferrule.at("/"));
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Come in as " + name)).click();
      page.screenshot(new Page.ScreenshotOptions().setPath(FOLDER.resolve(role + ".png")));
    }
  }
}
