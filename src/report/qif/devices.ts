import type { Plan } from "../../model/plan/plan.ts";
import type { ReportInstrument, SetupReport } from "../../model/setupReport.ts";
import { attributes } from "./attributes.ts";
import { isDay } from "./dateTime.ts";
import type { Ids } from "./ids.ts";
import type { QifFeature } from "./qifFeatures.ts";
import { counted, element, token, type XmlElement } from "./xml.ts";

/** The gauges of a report as measurement devices. */
export interface Devices {
  readonly element: XmlElement | null;
  /** The gauge that a feature was measured with; empty where neither plan nor record says. */
  of(feature: QifFeature): readonly number[];
}

export function devicesOf({ instruments, logs }: SetupReport, plan: Plan | null, ids: Ids): Devices {
  const numbers = new Map(instruments.map(({ name }) => [name, ids.next()]));
  const only = numbers.size === 1 ? [...numbers.values()] : [];
  const logsNameOne = logs.some(({ header }) => Object.hasOwn(header, "instrument"));
  const usual = logsNameOne ? null : (plan?.logs.instrument ?? null);
  const devices = counted(
    "MeasurementDevices",
    instruments.map((instrument) => device(instrument, numbers.get(instrument.name) ?? 0)),
  );
  return {
    element: devices === null ? null : element("MeasurementResources", [devices]),
    of({ facts, shape }) {
      if (!shape.touched || facts.record === null) return [];
      const number = numbers.get(facts.plan?.instrument ?? usual ?? "");
      return number === undefined ? only : [number];
    },
  };
}

const device = ({ name, uncertainty, calibrationDue, where }: ReportInstrument, id: number): XmlElement =>
  element(
    "MeasurementDevice",
    [
      element("Name", token(name)),
      attributes([
        ["standardUncertaintyOfReading", uncertainty],
        ["calibrationDue", calibrationDue],
        ["measuredOn", where],
      ]),
      calibrationDue === null || !isDay(calibrationDue.slice(0, 10))
        ? null
        : counted("Calibrations", [
            // The day it is due still counts.
            element("Calibration", [element("ExpirationDate", `${calibrationDue.slice(0, 10)}T23:59:59`)]),
          ]),
    ],
    { id: String(id) },
  );
