package ferrule.upkeep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.LoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import ch.qos.logback.core.encoder.Encoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.slf4j.LoggerFactory;

/** What stands in the log where somebody sent lines of their own. */
class LogLinesTest {

  private static final String FORGED = "2026-11-20T10:00:00.000Z WARN  ferrule.app all is well";

  private final Logger logger = ((LoggerContext) LoggerFactory.getILoggerFactory()).getLogger("ferrule.test");

  private List<String> lines(String message, Throwable fault) {
    LoggingEvent event =
        new LoggingEvent(Logger.class.getName(), logger, Level.ERROR, "{} failed", fault, new Object[] {message});
    return List.of(new String(encoder().encode(event), StandardCharsets.UTF_8).split("\r\n|\r|\n"));
  }

  @SuppressWarnings("unchecked")
  private Encoder<ILoggingEvent> encoder() {
    return ((ConsoleAppender<ILoggingEvent>) logger.getLoggerContext().getLogger(Logger.ROOT_LOGGER_NAME)
        .getAppender("ERR")).getEncoder();
  }

  @Test
  void aMessageIsOneLine() {
    List<String> lines = lines("what was sent\r\n" + FORGED, null);

    assertEquals(1, lines.size(), lines.toString());
    assertTrue(lines.get(0).contains("what was sent " + FORGED + " failed"), lines.get(0));
  }

  @Test
  void noLineOfAFaultBeginsAsOneOfTheLog() {
    for (String end : List.of("\n", "\r", "\r\n", "\n\n")) {
      List<String> lines = lines(
          "it", new IllegalStateException("cannot" + end + FORGED, new IllegalArgumentException("because" + end + FORGED)));

      assertTrue(lines.get(0).contains("it failed"), lines.get(0));
      assertTrue(lines.get(1).startsWith("java.lang.IllegalStateException: cannot"), lines.get(1));
      assertEquals(2, lines.stream().filter(line -> line.endsWith(FORGED)).count(), lines.toString());
      for (String line : lines.subList(2, lines.size())) {
        assertTrue(line.isEmpty() || line.startsWith("  "), line);
      }
      assertTrue(lines.stream().anyMatch(line -> line.contains("\tat ferrule.upkeep.LogLinesTest")), lines.toString());
    }
  }
}
