package ferrule.upkeep;

import ferrule.web.Operations;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Timer;
import io.micrometer.core.instrument.binder.MeterBinder;
import io.micrometer.core.instrument.binder.jvm.JvmGcMetrics;
import io.micrometer.core.instrument.binder.jvm.JvmMemoryMetrics;
import io.micrometer.core.instrument.binder.jvm.JvmThreadMetrics;
import io.micrometer.core.instrument.binder.logging.LogbackMetrics;
import io.micrometer.core.instrument.binder.system.DiskSpaceMetrics;
import io.micrometer.core.instrument.binder.system.FileDescriptorMetrics;
import io.micrometer.core.instrument.binder.system.ProcessorMetrics;
import io.micrometer.core.instrument.binder.system.UptimeMetrics;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The figures of one running node, in the text format of Prometheus: requests by route and outcome, connections to the
 * database, memory, processor, files and disk, and those of Ferrule's own, named {@code ferrule_...}.
 */
public final class Figures implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(Figures.class);
  private static final Duration[] BOUNDS = {
    Duration.ofMillis(50), Duration.ofMillis(100), Duration.ofMillis(300), Duration.ofSeconds(1), Duration.ofSeconds(3)
  };

  private final PrometheusMeterRegistry registry = new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
  private final JvmGcMetrics collections = new JvmGcMetrics();
  private final LogbackMetrics logged = new LogbackMetrics();

  /** Begins to count; free space is that of the disk with this folder. */
  public Figures(Path folder) {
    List<MeterBinder> machine = List.of(
        new JvmMemoryMetrics(), collections, new JvmThreadMetrics(), logged, new ProcessorMetrics(),
        new FileDescriptorMetrics(), new UptimeMetrics(), new DiskSpaceMetrics(folder.toAbsolutePath().toFile()));
    machine.forEach(binder -> binder.bindTo(registry));
  }

  /** Where others add what they measure. */
  public MeterRegistry registry() {
    return registry;
  }

  /** Adds a figure that is asked for when the figures are read; it is left out while it cannot be had. */
  public void ask(String name, String meaning, Supplier<Double> figure) {
    Gauge.builder(name, () -> orUnknown(name, figure)).description(meaning).register(registry);
  }

  private static double orUnknown(String name, Supplier<Double> figure) {
    try {
      return figure.get();
    } catch (RuntimeException e) {
      LOG.debug("the figure {} cannot be had", name, e);
      return Double.NaN;
    }
  }

  /** Counts a request. */
  public void count(Operations.Served request) {
    Timer.builder("ferrule.requests")
        .description("Requests that were answered, by route and outcome")
        .tags("method", request.method().toUpperCase(Locale.ROOT),
            "route", request.route().isEmpty() ? "none" : request.route(),
            "outcome", request.status() / 100 + "xx")
        .serviceLevelObjectives(BOUNDS)
        .register(registry)
        .record(request.took());
  }

  /** All of them, as Prometheus reads them. */
  public String text() {
    return registry.scrape();
  }

  @Override
  public void close() {
    collections.close();
    logged.close();
    registry.close();
  }
}
