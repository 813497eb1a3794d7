package ferrule.app;

import ferrule.upkeep.LogFormat;
import ferrule.upkeep.RequestLog;
import picocli.CommandLine.Option;

/** The options of a running node that whoever watches over it sets. */
final class NodeOptions {

  @Option(
      names = "--metrics-port",
      paramLabel = "PORT",
      defaultValue = "${env:FERRULE_METRICS_PORT:-0}",
      description = "Port on which figures are read at /metrics, and health at /health/live and /health/ready; 0 for none "
          + "(FERRULE_METRICS_PORT; default: ${DEFAULT-VALUE}).")
  int metricsPort;

  @Option(
      names = "--metrics-host",
      paramLabel = "ADDRESS",
      defaultValue = "${env:FERRULE_METRICS_HOST:-127.0.0.1}",
      description = "Address of that port; keep it away from the outside (FERRULE_METRICS_HOST; default: ${DEFAULT-VALUE}).")
  String metricsHost;

  @Option(
      names = "--log-format",
      defaultValue = "${env:FERRULE_LOG_FORMAT:-text}",
      description = "How the log is written to standard error: text, or json, one object a line "
          + "(FERRULE_LOG_FORMAT; default: ${DEFAULT-VALUE}).")
  LogFormat logFormat;

  @Option(
      names = "--log-requests",
      defaultValue = "${env:FERRULE_LOG_REQUESTS:-trouble}",
      description = "Which requests get a line in the log: all, trouble (failed here, or two seconds and more), none "
          + "(FERRULE_LOG_REQUESTS; default: ${DEFAULT-VALUE}).")
  RequestLog.Which logRequests;

  @Option(
      names = "--audit-days",
      paramLabel = "DAYS",
      defaultValue = "${env:FERRULE_AUDIT_DAYS:-400}",
      description = "How long it is kept who saw something and who came in; who changed something is kept as long as the "
          + "records (FERRULE_AUDIT_DAYS; default: ${DEFAULT-VALUE}).")
  int auditDays;

  @Option(
      names = "--stop-after",
      paramLabel = "SECONDS",
      defaultValue = "${env:FERRULE_STOP_AFTER:-0}",
      description = "When told to stop, how long to go on serving while /health/ready already says no, so that a proxy "
          + "has noticed (FERRULE_STOP_AFTER; default: ${DEFAULT-VALUE}).")
  int stopAfterSeconds;
}
