package ferrule.app;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;

/**
 * What every class of browser tests has: a Ferrule of its own with the demo programme, and a Chromium to visit it, which
 * is the same for all and goes with the program.
 */
abstract class ChromiumVisits {

  static final Chromium chromium = new Chromium();
  static RunningFerrule ferrule;

  @BeforeAll
  static void open() {
    ferrule = new RunningFerrule();
  }

  @AfterAll
  static void close() {
    chromium.sendVisitorsAway();
    ferrule.close();
  }

  /** Signs a page's visitor in as one of the demo's accounts, such as "Wren", and returns the page. */
  static Page comeIn(Page page, String who) {
    page.navigate(ferrule.at("/sign-in"));
    page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Come in as " + who)).click();
    return page;
  }

  /** Waits until a page is in the worker's charge; one that came while the worker began is loaded once more. */
  static void awaitWorker(Page page) {
    Object inCharge = page.evaluate("""
        navigator.serviceWorker.ready.then(() => new Promise(go => {
          const worker = navigator.serviceWorker;
          const tell = () => go(!!worker.controller);
          if (worker.controller) tell();
          worker.addEventListener('controllerchange', tell);
          setTimeout(tell, 5000);
        }))""");
    if (!Boolean.TRUE.equals(inCharge)) {
      page.reload();
    }
  }
}
