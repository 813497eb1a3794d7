package ferrule.web;

import com.openhtmltopdf.util.Diagnostic;
import com.openhtmltopdf.util.XRLog;
import com.openhtmltopdf.util.XRLogger;
import java.util.logging.Level;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Sends what the typesetter has to say to our log: warnings as such, all else only to those who ask for detail. */
final class PaperLog implements XRLogger {

  private static final Logger LOG = LoggerFactory.getLogger(Paper.class);

  private PaperLog() {}

  static void install() {
    XRLog.setLoggerImpl(new PaperLog());
  }

  @Override
  public void log(String where, Level level, String message) {
    log(where, level, message, null);
  }

  @Override
  public void log(String where, Level level, String message, Throwable cause) {
    if (level.intValue() >= Level.WARNING.intValue()) {
      LOG.warn("{}: {}", where, message, cause);
    } else {
      LOG.debug("{}: {}", where, message, cause);
    }
  }

  @Override
  public void setLevel(String logger, Level level) {
    // our own log is set up in one place
  }

  @Override
  public boolean isLogLevelEnabled(Diagnostic diagnostic) {
    return diagnostic.getLevel().intValue() >= Level.WARNING.intValue() || LOG.isDebugEnabled();
  }
}
