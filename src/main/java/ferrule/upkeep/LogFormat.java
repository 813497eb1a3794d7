package ferrule.upkeep;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.JsonEncoder;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** How the log is written, on standard error. */
public enum LogFormat {
  /** Lines for people. */
  TEXT,
  /** One JSON object a line, for programs: timestamp, level, loggerName, mdc.request, kvpList, formattedMessage, throwable. */
  JSON;

  /** Writes the log like this from now on. */
  public void use() {
    if (this == TEXT) {
      return; // as logback.xml has it
    }
    LoggerContext context = (LoggerContext) LoggerFactory.getILoggerFactory();
    if (context.getLogger(Logger.ROOT_LOGGER_NAME).getAppender("ERR") instanceof ConsoleAppender<ILoggingEvent> console) {
      JsonEncoder encoder = new JsonEncoder();
      encoder.setContext(context);
      encoder.setWithSequenceNumber(false);
      encoder.setWithNanoseconds(false);
      encoder.setWithContext(false);
      encoder.setWithMessage(false);
      encoder.setWithArguments(false);
      encoder.setWithFormattedMessage(true);
      encoder.start();
      console.setEncoder(encoder);
    }
  }
}
