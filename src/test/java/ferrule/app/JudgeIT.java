package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import ferrule.bench.JudgeCases;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Holds the verdicts that a device works out without a network against those of the server: {@code -Dferrule.gradings=4000} for more. */
class JudgeIT extends ChromiumVisits {

  private static final int GRADINGS = Integer.getInteger("ferrule.gradings", 500);

  @Test
  void theDeviceJudgesAsTheServerDoes() {
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = visitor.newPage();
      page.navigate(ferrule.at("/sign-in"));
      Object wrong = page.evaluate("""
          async (text) => {
            const { grading, outcome } = await import("/modules/judge.js");
            const wrong = [];
            for (const { task, entries, lines, outcome: expected } of JSON.parse(text)) {
              const here = grading(task, entries);
              here.forEach((line, i) => {
                // the chance of a wrong verdict stands on the server's page alone
                const risk = /; (accepted wrongly|rejected wrongly|within the limits) with a chance [^;]*\\.$/;
                const words = lines[i].words.replace(risk, ".");
                if (line.state !== lines[i].state || line.words !== words) {
                  const id = line.criterion.id;
                  const typed = [entries.readings[id], entries.lowers[id], entries.uppers[id]];
                  wrong.push(JSON.stringify([task.id, id, typed, line.state, line.words, lines[i]]));
                }
              });
              const stands = here.every(l => l.found) ? outcome(task, here) : {};
              if (JSON.stringify(stands) !== JSON.stringify(expected)) {
                wrong.push(JSON.stringify([task.id, stands, expected]));
              }
            }
            return wrong.slice(0, 12);
          }""", JudgeCases.of(20261125, GRADINGS));
      assertEquals(List.of(), wrong);
    }
  }
}
