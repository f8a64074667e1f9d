// SPDX-License-Identifier: BSD-3-Clause
// Writes reference.csv with the general open-source library psychrolib (package of that name, version 1.1.1):
//     npm install psychrolib@1.1.1 && node reference.mjs > reference.csv
// Only its inputs and results are kept here, no code of it.
import psychrolib from "psychrolib";
psychrolib.SetUnitSystem(psychrolib.SI);
const pressures = [101325, 83500];
console.log("# Made by reference.mjs with psychrolib 1.1.1. Units: C, kg/kg, Pa, m.");
console.log("quantity,temperature,humidity_ratio,pressure,altitude,value");
for (const t of [0.5, 5, 10, 20, 25, 30, 40, 50, 60, 65, 70, 75, 80, 85, 90, 95, 100, 110, 120, 150, 180])
    console.log(`saturation_pressure,${t},,,,${psychrolib.GetSatVapPres(t).toPrecision(9)}`);
for (const w of [0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5])
    for (const p of pressures)
        console.log(`vapour_pressure,,${w},${p},,${psychrolib.GetVapPresFromHumRatio(w, p).toPrecision(9)}`);
for (const w of [0.005, 0.01, 0.02, 0.03, 0.05, 0.075, 0.1])
    console.log(`dew_point,121,${w},101325,,${psychrolib.GetTDewPointFromHumRatio(121, w, 101325).toPrecision(9)}`);
for (const p of pressures)
    for (const t of [20, 40, 66, 93, 107, 121, 135, 149, 163, 177])
        for (const w of [0.005, 0.01, 0.02, 0.03, 0.05, 0.075, 0.1]) {
            if (psychrolib.GetVapPresFromHumRatio(w, p) > psychrolib.GetSatVapPres(t))
                continue; // no such air
            console.log(`wet_bulb,${t},${w},${p},,${psychrolib.GetTWetBulbFromHumRatio(t, w, p).toPrecision(9)}`);
        }
for (const z of [0, 300, 500, 1000, 1600, 3000, 4000])
    console.log(`pressure_at_altitude,,,,${z},${psychrolib.GetStandardAtmPressure(z).toPrecision(9)}`);
